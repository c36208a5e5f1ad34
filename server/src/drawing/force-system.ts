/** Arrows for forces and arcs for moments on one attachment in one view, in proportion. */
import type { Wrench } from '#core/analysis/analysis';
import { handedness } from '#core/math/rotation';
import { column, type Mat3 } from '#core/math/vector';
import { type Effect, effects } from '#model/effects';
import type { DrawnAttachment } from './attachment';
import type { Label, Obstacle } from './labels';
import { coordinate, element } from './svg';
import { along, senseOfTurns, type View } from './view';

/** Canvas length of the largest force and sweep of the largest moment. */
export const longestArrow = 84;
const widestSweep = (150 * Math.PI) / 180;

/** Canvas radius of the arcs: around the slot where it is short, and never far from it. */
export const arcRadius = 46;
const largestArcRadius = 92;

/** Largest components over everything that a drawing may show, so that the slider changes lengths and not scales. */
export interface ForceScale {
  readonly force: number;
  readonly moment: number;
}

export interface Mark {
  readonly svg: string;
  readonly obstacles: readonly Obstacle[];
  readonly label: Label;
}

/** Below this part of the largest of its kind a component is not shown. */
export const negligible = 0.02;

export function forceScale(wrenches: readonly Wrench[]): ForceScale {
  let force = 0;
  let moment = 0;
  for (const wrench of wrenches) {
    force = Math.max(force, ...wrench.force.map(Math.abs));
    moment = Math.max(moment, ...wrench.moment.map(Math.abs));
  }
  // Without load there is nothing to put in proportion: 5 mN and 0.05 N mm are below what anyone can measure.
  return { force: Math.max(force, 0.005), moment: Math.max(moment, 0.05) };
}

/**
 * @param acting  on the attachment, with the axes of its tooth
 * @param outward  canvas side that faces away from the other attachments: -1 left, 1 right
 * @param write  number with unit for an effect
 */
export function drawForceSystem(
  acting: { readonly wrench: Wrench; readonly axes: Mat3 },
  attachment: DrawnAttachment,
  view: View,
  scale: ForceScale,
  outward: 1 | -1,
  write: (effect: Effect) => string,
): readonly Mark[] {
  const { wrench } = acting;
  const all = effects(wrench);
  const shown = (effect: Effect) => effect.amount > negligible * scale[effect.kind];
  const forces = all.filter((effect) => effect.kind === 'force' && shown(effect));
  const marks: Mark[] = [];
  if (view.frame === 'arch') {
    marks.push(...arrowsInArch(acting, forces, attachment, view, scale, write));
    if (view.name !== 'occlusal') return marks;
  }

  const vertical = view.frame === 'arch' ? undefined : forces.find((effect) => effect.axis === view.up.index);
  const upward = vertical !== undefined && wrench.force[view.up.index] * view.up.sign > 0;
  if (vertical !== undefined) {
    const side = upward ? -1 : 1;
    marks.push(
      arrow(
        vertical,
        [attachment.centre[0], attachment.centre[1] + side * (attachment.half[1] + 6)],
        [0, side],
        scale,
        write(vertical),
      ),
    );
  }
  // The pull along the arch is the same arrow in both views; it is drawn once, on the side the upright one leaves free.
  const horizontal =
    view.frame === 'quadrant' && view.name === 'buccal'
      ? forces.find((effect) => effect.axis === view.right.index)
      : undefined;
  if (horizontal !== undefined) {
    const side = upward || vertical === undefined ? 1 : -1;
    const sense = wrench.force[view.right.index] * view.right.sign > 0 ? 1 : -1;
    const start: [number, number] = [attachment.centre[0], attachment.centre[1] + side * (attachment.half[1] + 14)];
    marks.push(arrow(horizontal, start, [sense, 0], scale, write(horizontal), [0, side]));
  }
  const turn = all.find((effect) => effect.kind === 'moment' && effect.axis === view.toward.index && shown(effect));
  if (turn !== undefined) {
    // On the patient's left a moment about gingival is told in a mirror image.
    const sense = view.toward.sign * senseOfTurns(view) * handedness(acting.axes);
    const counterclockwise = wrench.moment[view.toward.index] * sense > 0;
    marks.push(arc(turn, attachment, counterclockwise, scale, outward, write(turn)));
  }
  return marks;
}

/** In a whole arch each component points along its own tooth's axis. */
function arrowsInArch(
  { wrench, axes }: { readonly wrench: Wrench; readonly axes: Mat3 },
  forces: readonly Effect[],
  { centre, half }: DrawnAttachment,
  view: View,
  scale: ForceScale,
  write: (effect: Effect) => string,
): Mark[] {
  return forces.flatMap((effect): Mark[] => {
    const way = column(axes, effect.axis);
    const [right, up] = [along(view.right, way), along(view.up, way)];
    const seen = Math.hypot(right, up);
    // From the front only what intrudes and extrudes: the rest is told from the biting side.
    if (seen < 0.5 || (view.name === 'buccal') !== (effect.axis === 1)) return [];
    const sense = Math.sign(wrench.force[effect.axis]) / seen;
    const direction: [number, number] = [sense * right, -sense * up];
    const clear = Math.max(...half) + 4;
    const start: [number, number] = [centre[0] + clear * direction[0], centre[1] + clear * direction[1]];
    return [arrow(effect, start, direction, scale, write(effect))];
  });
}

function arrow(
  effect: Effect,
  start: readonly [number, number],
  direction: readonly [number, number],
  scale: ForceScale,
  amount: string,
  labelSide: readonly [number, number] = direction,
): Mark {
  const length = (longestArrow * effect.amount) / scale.force;
  const tip: [number, number] = [start[0] + direction[0] * length, start[1] + direction[1] * length];
  const head = Math.min(10, 0.7 * length);
  const neck: [number, number] = [tip[0] - direction[0] * head, tip[1] - direction[1] * head];
  const middle: [number, number] = [(start[0] + tip[0]) / 2, (start[1] + tip[1]) / 2];
  const beside = labelSide !== direction;
  return {
    svg: element(
      'g',
      { class: `force ${effect.name}` },
      element('path', { class: 'shaft', d: `M${pair(start)}L${pair(neck)}`, fill: 'none' }),
      element('path', { class: 'head', d: headPath(tip, direction, head) }),
    ),
    obstacles: points(start, tip),
    label: {
      class: 'force',
      lines: [amount, effect.words],
      anchor: beside ? middle : tip,
      toward: labelSide,
      distance: beside ? 7 : 4,
    },
  };
}

function arc(
  effect: Effect,
  { centre, half }: DrawnAttachment,
  counterclockwise: boolean,
  scale: ForceScale,
  outward: 1 | -1,
  amount: string,
): Mark {
  const radius = Math.min(Math.max(half[0] + 10, arcRadius), largestArcRadius);
  const sweep = (widestSweep * effect.amount) / scale.moment;
  // Canvas angles, clockwise from the right because y points down; the arc lies about the outward side.
  const middle = outward > 0 ? 0 : Math.PI;
  const sense = counterclockwise ? -1 : 1;
  const from = middle - (sense * sweep) / 2;
  const to = middle + (sense * sweep) / 2;
  const head = Math.min(10, 0.7 * sweep * radius);
  const neck = to - (sense * head) / radius;
  const at = (angle: number): [number, number] => [
    centre[0] + radius * Math.cos(angle),
    centre[1] + radius * Math.sin(angle),
  ];
  // The head's axis is the chord from neck to tip, so that it sits on the arc.
  const tip = at(to);
  const base = at(neck);
  const chord = Math.hypot(tip[0] - base[0], tip[1] - base[1]) || 1;
  const direction: [number, number] = [(tip[0] - base[0]) / chord, (tip[1] - base[1]) / chord];
  const along = Array.from({ length: 12 }, (_, index) => at(from + ((to - from) * index) / 11));
  return {
    svg: element(
      'g',
      { class: `moment ${effect.name}` },
      element('path', {
        class: 'shaft',
        d: `M${pair(at(from))}A${coordinate(radius)} ${coordinate(radius)} 0 0 ${sense > 0 ? 1 : 0} ${pair(base)}`,
        fill: 'none',
      }),
      element('path', { class: 'head', d: headPath(tip, direction, head) }),
    ),
    obstacles: along.map(([x, y]) => ({ x, y, radius: 5 })),
    label: {
      class: 'moment',
      lines: [amount, effect.words],
      anchor: [centre[0] + outward * radius, centre[1]],
      toward: [outward, 0],
      distance: 9,
    },
  };
}

function headPath(tip: readonly [number, number], direction: readonly [number, number], head: number): string {
  const half = head * 0.42;
  const base = [tip[0] - direction[0] * head, tip[1] - direction[1] * head];
  return (
    `M${pair(tip)}L${pair([base[0] - direction[1] * half, base[1] + direction[0] * half])}` +
    `L${pair([base[0] + direction[1] * half, base[1] - direction[0] * half])}Z`
  );
}

function points(from: readonly [number, number], to: readonly [number, number]): Obstacle[] {
  return Array.from({ length: 9 }, (_, index) => ({
    x: from[0] + ((to[0] - from[0]) * index) / 8,
    y: from[1] + ((to[1] - from[1]) * index) / 8,
    radius: 5,
  }));
}

function pair([x, y]: readonly number[]): string {
  return `${coordinate(x)} ${coordinate(y)}`;
}
