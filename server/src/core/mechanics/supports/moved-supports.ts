/**
 * Supports that the activation moves against their span's frame, or past which it draws wire at the span's start: what that does to the
 * wire, and what it takes.
 *
 * Carried along by δ, a support presses as if the wire's node had gone by -δ, at a place δ further on: its wrench changes by
 * K (0, δ) + (δ × f, 0). The wire's answer is that of a Newton step with the wrenches so changed, so that one more sweep gives it.
 */
import type { Drive, HeldSpan } from '../held-span';
import { passBack } from '../loose-span';
import { COLUMNS, forceAt, type Span } from '../span';
import { changeBehind } from './supports';

export interface MovedSupports {
  /** Per support of the span, way of its place per mm of the motion, in the span's frame, 3 each. */
  readonly shifts: Float64Array;
  /** Per support, what its force on the wire counts for along the motion: the product with these 3. */
  readonly weights: Float64Array;
  /** The supports' wrenches as they stand, while others are tried out. */
  readonly wrench: Float64Array;
  /** Change of u with a Newton step, 6 per segment. */
  readonly changes: Float64Array;
  /** Force along the motion, N, after a step with the motion 1 mm further on. */
  further: number;
}

export function movedSupports(shifts: readonly number[], weights: readonly number[]): MovedSupports {
  const count = shifts.length / 3;
  return {
    shifts: Float64Array.from(shifts),
    weights: Float64Array.from(weights),
    wrench: new Float64Array(6 * count),
    changes: new Float64Array(6 * count + 6),
    further: 0,
  };
}

/** Changes the supports' wrenches by what `by` mm of the motion changes them; `restoreSupports` takes it back. */
export function shiftSupports({ supports }: Span, { shifts, wrench: kept }: MovedSupports, by: number): void {
  const { stiffness, wrench } = supports!;
  kept.set(wrench);
  for (let k = 0; 3 * k < shifts.length; k++) {
    const x = by * shifts[3 * k];
    const y = by * shifts[3 * k + 1];
    const z = by * shifts[3 * k + 2];
    const w = 6 * k;
    for (let r = 0; r < 6; r++) {
      const row = 36 * k + 6 * r + 3;
      wrench[w + r] += stiffness[row] * x + stiffness[row + 1] * y + stiffness[row + 2] * z;
    }
    const [fx, fy, fz] = [kept[w + 3], kept[w + 4], kept[w + 5]];
    wrench[w] += y * fz - z * fy;
    wrench[w + 1] += z * fx - x * fz;
    wrench[w + 2] += x * fy - y * fx;
  }
}

function restoreSupports({ supports }: Span, { wrench }: MovedSupports): void {
  supports!.wrench.set(wrench);
}

/** Force along the motion, N, of the wire on what the drive moves or draws through; as it is now, or after the step that has been solved for. */
export function forceAlong({ span }: HeldSpan, { kind, force, moved }: Drive, changes?: Float64Array): number {
  const { u } = span;
  const at = kind === 'draw-start' ? 0 : forceAt(span, span.mesh.steps);
  let sum = 0;
  for (let c = 0; c < 3; c++) sum += force[c] * (u[at + 3 + c] + (changes ? changes[at + 3 + c] : 0));
  if (!moved) return sum;
  const { weights } = moved;
  for (let k = 0; 3 * k < weights.length; k++) {
    for (let c = 0; c < 3; c++) {
      const behind = 6 * k + 3 + c;
      const lost = u[behind] - u[behind + 6] + (changes ? changes[behind] - changes[behind + 6] : 0);
      sum += weights[3 * k + c] * lost;
    }
  }
  return sum;
}

/** The force along the motion with it 1 mm further on; `sweep` solves for the span's change with the drive so many mm further on. */
export function tryFurther(
  held: HeldSpan,
  drive: Drive,
  moved: MovedSupports,
  sweep: (held: HeldSpan, by: number, drive: Drive) => boolean,
): boolean {
  shiftSupports(held.span, moved, 1);
  const solved = sweep(held, 1, drive);
  if (solved) {
    solvedChanges(held, moved);
    moved.further = forceAlong(held, drive, moved.changes);
  }
  restoreSupports(held.span, moved);
  return solved;
}

/** Fills `changes` from the solution of the last sweep. */
export function solvedChanges({ span, change }: HeldSpan, { changes }: MovedSupports): void {
  const { columns, segment, mesh } = span;
  if (span.loose) {
    movement.set(change);
    changes.fill(0);
    for (let i = mesh.steps - 1; i > 0; i--) {
      passBack(span, i, movement, answer);
      if (segment[i] === segment[i - 1] && i > 1) continue;
      changes.set(answer, segment[i]);
    }
    return;
  }
  const { nodes } = span.supports!;
  changes.set(change, 6 * nodes.length);
  for (let k = nodes.length - 1; k >= 0; k--) {
    const at = COLUMNS * nodes[k];
    for (let r = 0; r < 6; r++) {
      movement[r] = columns[at + 36 + r];
      for (let c = 0; c < 6; c++) movement[r] += columns[at + 6 * c + r] * changes[6 * k + 6 + c];
    }
    changeBehind(span, k, movement, answer);
    for (let r = 0; r < 6; r++) changes[6 * k + r] = changes[6 * k + 6 + r] + answer[r];
  }
}

const movement = new Float64Array(6);
const answer = new Float64Array(6);
