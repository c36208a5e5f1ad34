/** Input records written by hand, for checks of the oracle itself and for the random designs. */
import type { Activation, Alloy, ApplianceDesign, Attachment, Section, WireElement } from '#core/design';
import type { Mat3, Vec3 } from '#core/math/vector';
import { nominalPlace } from './wire-line';

const none: Vec3 = [0, 0, 0];
const straightFrame: Mat3 = [1, 0, 0, 0, 1, 0, 0, 0, 1];

export function straight(length: number): WireElement {
  return { length, shape: none, preactivation: none };
}

/** A bend about the section's side axis (second order), positive toward gingival. */
export function bend(angle: number, radius: number): WireElement {
  return { length: radius * Math.abs(angle), shape: [0, 0, angle], preactivation: none };
}

export function preactivate(turn: Vec3, radius: number): WireElement {
  return { length: radius * Math.hypot(...turn), shape: none, preactivation: turn };
}

export interface DesignInput {
  readonly elements: readonly WireElement[];
  readonly section: Section;
  readonly alloy: Alloy;
  /** Stations of the two seats, mm, and the wire each slot holds. */
  readonly seats: readonly [number, number];
  readonly lengths: readonly [number, number];
  readonly fittings?: readonly [Attachment['fitting'], Attachment['fitting']];
  /** Displacement of the second attachment from its nominal place. */
  readonly moved?: Vec3;
  readonly activation?: Activation;
}

/** Two attachments at the nominal places of their seats. */
export function twoAttachments(input: DesignInput): ApplianceDesign {
  const bare: ApplianceDesign = {
    elements: input.elements,
    section: input.section,
    alloy: input.alloy,
    start: { position: [-input.seats[0], 0, 0], axes: straightFrame },
    attachments: [],
    activation: input.activation,
    loops: [],
    loads: [],
    groups: [],
  };
  const attachments = input.seats.map((station, i): Attachment => {
    const place = nominalPlace(bare, station);
    const moved = i === 1 ? (input.moved ?? none) : none;
    return {
      name: i === 0 ? 'first' : 'last',
      fitting: input.fittings?.[i] ?? 'bracket',
      station,
      length: input.lengths[i],
      seatedWire: {
        position: place.position.map((value, k) => value + moved[k]) as unknown as Vec3,
        axes: place.axes as unknown as Mat3,
      },
      slotAxes: straightFrame,
      axes: straightFrame,
      tied: false,
      lengthwise: 'held',
      play: false,
      friction: 0,
    };
  });
  return { ...bare, attachments };
}

export const steel: Alloy = { name: 'steel', modulus: 180_000, poisson: 0.3, yield: 1500, smallestInnerRadius: 1 };
export const betaTitanium: Alloy = {
  name: 'beta_titanium',
  modulus: 66_000,
  poisson: 0.33,
  yield: 900,
  smallestInnerRadius: 1,
};
