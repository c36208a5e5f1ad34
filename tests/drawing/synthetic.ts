/** Records as an analysis yields them, made up for geometry whose places on the canvas are known. */

import type { ApplianceAnalysis, EngagedState, Outline, Wrench } from '#core/analysis/analysis';
import type { ApplianceDesign, Attachment } from '#core/design';
import type { Mat3, Vec3 } from '#core/math/vector';
import type { DrawableAppliance } from '#drawing/scene';
import { USUAL_SITE } from '#model/site';

const identity: Mat3 = [1, 0, 0, 0, 1, 0, 0, 0, 1];

export function outlineOf(points: readonly Vec3[]): Outline {
  let station = 0;
  const stations = points.map((point, index) => {
    if (index > 0) station += Math.hypot(...point.map((value, axis) => value - points[index - 1][axis]));
    return station;
  });
  return { stations, points: points.flat(), sides: points.flatMap(() => [0, 0, 1]) };
}

/**
 * A closed vertical loop about x = `middle`: the wire passes its start, turns back over the top and comes down on the
 * other side, in front of where it came from by `depth`.
 */
export function closedLoop(from: number, to: number, height: number, width: number, depth: number, spread = 0): Vec3[] {
  const middle = (from + to) / 2;
  const radius = width / 2;
  const points: Vec3[] = [];
  points.push([from, 0, 0], [middle + radius + spread / 2, 0, 0]);
  const steps = 24;
  for (let step = 0; step <= steps; step++) {
    const angle = (Math.PI * step) / steps;
    const lean = (spread / 2) * (1 - step / steps) - (spread / 2) * (step / steps);
    points.push([
      middle + lean * 0.2 + radius * Math.cos(angle),
      height - radius + radius * Math.sin(angle),
      (depth * step) / steps,
    ]);
  }
  points.push([middle - radius - spread / 2, 0, depth], [to, 0, depth]);
  return points;
}

export function attachment(name: string, fitting: Attachment['fitting'], position: Vec3, length: number): Attachment {
  return {
    name,
    fitting,
    station: 0,
    length,
    seatedWire: { position, axes: identity },
    slotAxes: identity,
    axes: identity,
    tied: false,
    lengthwise: 'held',
    play: false,
    friction: 0,
  };
}

export function engaged(activation: number, wrenches: readonly Wrench[], points: readonly Vec3[]): EngagedState {
  const outline = outlineOf(points);
  return {
    motion: activation + 0.4,
    activation,
    wrenches,
    places: wrenches.map((): Vec3 => [0, 0, 0]),
    slid: wrenches.map(() => 0),
    seated: wrenches.map(() => null),
    loads: [],
    stress: 800,
    stressStation: 12,
    elasticUse: 0.8,
    stresses: outline.stations.map(() => 100),
    uses: outline.stations.map(() => 0.11),
    loops: [{ legGap: -1.2 + activation, legAngle: 0.1 }],
    outline,
    residual: { force: 1e-10, moment: 1e-10 },
    iterations: 5,
    stable: true,
  };
}

/** The space-closing spring of the design notes with the figures given there, its shape made up. */
export function closingSpring(): DrawableAppliance {
  const full: Wrench[] = [
    { force: [1.22, -0.37, 0.06], moment: [0.4, -2.8, -11.6] },
    { force: [-1.22, 0.37, -0.06], moment: [-0.3, 1.9, 8.3] },
  ];
  const loads = (part: number): Wrench[] =>
    full.map(({ force, moment }) => ({
      force: force.map((value) => part * value) as unknown as Vec3,
      moment: moment.map((value) => (0.5 + part / 2) * value) as unknown as Vec3,
    }));
  const shape = (activation: number) => closedLoop(-8, 25, 9, 3, 0.64, activation * 0.6);
  const design: ApplianceDesign = {
    elements: [],
    section: { kind: 'rectangle', height: 0.4318, width: 0.635, cornerRadius: 0 },
    alloy: { name: 'beta_titanium', modulus: 66_000, poisson: 0.33, yield: 1000, smallestInnerRadius: 1.5 },
    start: { position: [-8, 0, 0], axes: identity },
    attachments: [attachment('molar', 'tube', [0, 0, 0], 4), attachment('canine', 'bracket', [23, 0, 0.64], 3)],
    activation: { motion: { kind: 'pull', attachment: 0 }, stages: [0, 0.5, 1, 1.5, 2, 2.5, 3] },
    loops: [{ name: 'loop', feet: [17, 41], running: [1, 0, 0], normal: [0, 0, 1] }],
    loads: [],
    groups: [],
  };
  const neutral = engaged(0, loads(0), shape(0));
  const analysis: ApplianceAnalysis = {
    developedLength: 58.2,
    nominal: outlineOf(shape(0)),
    passive: outlineOf(shape(0).map(([x, y, z]) => [x, y + Math.max(0, 4 - x) * 0.3 + Math.max(0, x - 12) * 0.25, z])),
    nominalLoops: [],
    passiveLoops: [],
    neutral,
    stages: [0, 0.5, 1, 1.5, 2, 2.5, 3].map((activation) => ({
      activation,
      state: engaged(activation, loads(activation / 3), shape(activation)),
      failure: undefined,
    })),
    failure: undefined,
    parallelLegs: [1.2],
    firstYield: 2.6,
    stiffness: [],
    contacts: { nominal: [], neutral: [] },
    effort: { solves: 8, iterations: 40 },
  };
  return {
    // Little of a resolved appliance is drawn; the rest needs a parsed text.
    appliance: {
      name: 'closing_section',
      site: USUAL_SITE,
      marks: [],
      steps: [],
    } as unknown as DrawableAppliance['appliance'],
    analysis,
    workingActivation: 1.5,
    design,
  };
}
