/** A bending table in printed steps, coarse enough for the bench and fine enough that it gives the shape back. */
import type { Pose } from '../design';
import { advance } from '../geometry/pose';
import { rotationVector } from '../math/rotation';
import { identityMatrix, multiply, norm, scale, subtract, transpose, zeroVector } from '../math/vector';
import { type BendingTable, tableElements } from './bending-table';

export interface RoundedTable extends BendingTable {
  /** In which lengths and radii (mm) and angles (rad) are given. */
  readonly lengthStep: number;
  readonly angleStep: number;
  /** How far a wire bent by the rounded table is off the exact one at most when both start alike: mm, and rad of its section's frame. */
  readonly deviation: Deviation;
}

export interface Deviation {
  readonly distance: number;
  readonly angle: number;
}

/** What a printed table holds to. */
export const PROMISE: Deviation = { distance: 0.1, angle: (0.5 * Math.PI) / 180 };

/** In the coarsest steps that hold to the promise; in the finest where none does. */
export function roundedTable(table: BendingTable, promise: Deviation = PROMISE): RoundedTable {
  let rounded: RoundedTable | undefined;
  for (const [lengthStep, angleStep] of STEPS) {
    const candidate = inSteps(table, lengthStep, (angleStep * Math.PI) / 180);
    const deviation = deviationBetween(table, candidate);
    rounded = { ...candidate, lengthStep, angleStep: (angleStep * Math.PI) / 180, deviation };
    if (deviation.distance <= promise.distance && deviation.angle <= promise.angle) break;
  }
  return rounded!;
}

/** A number in whole steps. */
export function toStep(value: number, step: number): number {
  return Math.round(value / step) * step;
}

function inSteps({ lead, rows }: BendingTable, lengthStep: number, angleStep: number): BendingTable {
  const length = (value: number): number => toStep(value, lengthStep);
  const angle = (value: number): number => toStep(value, angleStep);
  return {
    lead: length(lead),
    rows: rows.map((row) => {
      const { radius, pitch } = row;
      const rounded = { radius: length(radius), pitch: length(pitch), angle: angle(row.angle) };
      const taken = (Math.abs(rounded.angle) / (2 * Math.PI)) * Math.hypot(2 * Math.PI * rounded.radius, rounded.pitch);
      return {
        ...{ ...row, ...rounded, plane: angle(row.plane), toNext: length(row.toNext) },
        length: row.kind === 'twist' ? length(row.length) : taken,
      };
    }),
  };
}

/** At the ends and the middle of every piece; both tables have the same rows. */
function deviationBetween(exact: BendingTable, other: BendingTable): Deviation {
  const [a, b] = [tableElements(exact), tableElements(other)];
  let [pose, off]: [Pose, Pose] = [ORIGIN, ORIGIN];
  let distance = 0;
  let angle = 0;
  a.forEach((element, index) => {
    for (const part of [0.5, 1]) {
      const here = advance(pose, scale(element.shape, part), element.length * part);
      const there = advance(off, scale(b[index].shape, part), b[index].length * part);
      distance = Math.max(distance, norm(subtract(there.position, here.position)));
      angle = Math.max(angle, norm(rotationVector(multiply(transpose(here.axes), there.axes))));
      if (part === 1) [pose, off] = [here, there];
    }
  });
  return { distance, angle };
}

const ORIGIN: Pose = { position: zeroVector, axes: identityMatrix };

const LENGTH_STEPS = [0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001];
const ANGLE_STEPS = [1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01];

/** Pairs of mm and deg from coarse to fine; of equal ones those first that are coarser in length. */
const STEPS = LENGTH_STEPS.flatMap((length, i) => ANGLE_STEPS.map((angle, j) => ({ length, angle, rank: i + j })))
  .sort((a, b) => a.rank - b.rank || b.length - a.length)
  .map(({ length, angle }) => [length, angle] as const);
