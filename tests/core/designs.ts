/** Designs built directly as numbers, for the tests of the core. */
import type { Activation, Alloy, ApplianceDesign, Attachment, Pose, Section, WireElement } from '#core/design';
import { centreline, poseAt } from '#core/geometry/centreline';
import { developedLength } from '#core/geometry/developed-length';
import { identityMatrix, type Mat3, type Vec3 } from '#core/math/vector';

export const radians = (degrees: number): number => (degrees * Math.PI) / 180;
export const inches = (value: number): number => value * 25.4;

export function straight(length: number): WireElement {
  return { length, shape: [0, 0, 0], preactivation: [0, 0, 0] };
}

/** A bend in the tangent-up plane, positive toward up, rad; radius 0 is a sharp corner. */
export function bend(angle: number, radius = 0): WireElement {
  return { length: Math.abs(angle) * radius, shape: [0, 0, angle], preactivation: [0, 0, 0] };
}

/** A sharp preactivation bend as a rotation vector in the section frame. */
export function preactivate(turn: Vec3): WireElement {
  return { length: 0, shape: [0, 0, 0], preactivation: turn };
}

/** An alloy and a section whose stiffness in the plane is EI, N mm². */
export function withStiffness(EI: number, section: Section): Alloy {
  const inertia =
    section.kind === 'round' ? (Math.PI * section.diameter ** 4) / 64 : (section.width * section.height ** 3) / 12;
  return { ...steel, modulus: EI / inertia };
}

export const steel: Alloy = { name: 'steel', modulus: 180_000, poisson: 0.3, yield: 1500, smallestInnerRadius: 1 };
export const betaTitanium: Alloy = {
  name: 'beta',
  modulus: 69_000,
  poisson: 0.33,
  yield: 930,
  smallestInnerRadius: 1.5,
};

export const rectangle = (heightInch: number, widthInch: number): Section => ({
  kind: 'rectangle',
  height: inches(heightInch),
  width: inches(widthInch),
  cornerRadius: 0,
});

export const origin: Pose = { position: [0, 0, 0], axes: identityMatrix };

export interface Holding {
  readonly station: number;
  readonly fitting?: Attachment['fitting'];
  readonly length?: number;
  /** Moved away from its nominal seat, and turned. */
  readonly moved?: Vec3;
  readonly turned?: Mat3;
  readonly tied?: boolean;
  readonly lengthwise?: Attachment['lengthwise'];
  readonly play?: boolean;
  readonly slot?: { readonly height: number; readonly depth: number };
  readonly friction?: number;
}

/** A design whose attachments stand at their seats' nominal poses, but for what is said otherwise. */
export function design(
  elements: readonly WireElement[],
  holdings: readonly Holding[],
  section: Section,
  alloy: Alloy,
  activation?: Activation,
): ApplianceDesign {
  const nominal = centreline(elements, origin, 0);
  const total = developedLength(elements);
  return {
    elements,
    section,
    alloy,
    start: origin,
    attachments: holdings.map((holding, k): Attachment => {
      const pose = poseAt(nominal, holding.station, holding.station >= total ? 'after' : k === 0 ? 'before' : 'after');
      const moved = holding.moved ?? [0, 0, 0];
      const position = pose.position.map((x, i) => x + moved[i]) as unknown as Vec3;
      return {
        name: `attachment ${k}`,
        fitting: holding.fitting ?? 'bracket',
        station: holding.station,
        length: holding.length ?? 0,
        seatedWire: { position, axes: holding.turned ?? pose.axes },
        slotAxes: identityMatrix,
        axes: identityMatrix,
        tied: holding.tied ?? false,
        lengthwise: holding.lengthwise ?? 'held',
        play: holding.play ?? false,
        friction: holding.friction ?? 0,
        ...(holding.slot && { slot: holding.slot }),
      };
    }),
    activation,
    loops: [],
    loads: [],
    groups: [],
  };
}

/** Vertical loop: height h to the top's centre line, half-circle of radius r, sharp base corners, centred at `centre` in L. */
export function verticalLoop(h: number, r: number, L: number, centre = L / 2, gable = 0): readonly WireElement[] {
  const quarter = Math.PI / 2;
  return [
    straight(centre - r),
    ...(gable ? [preactivate([0, 0, gable])] : []),
    bend(quarter),
    straight(h - r),
    bend(-Math.PI, r),
    straight(h - r),
    bend(quarter),
    ...(gable ? [preactivate([0, 0, gable])] : []),
    straight(L - centre - r),
  ];
}

/** Loop 6 mm high with bends all of which are round, from one foot to the other. */
export const roundLoop: readonly WireElement[] = [
  bend(Math.PI / 2, 0.7),
  straight(5),
  bend(-Math.PI, 1),
  straight(5),
  bend(Math.PI / 2, 0.7),
];
