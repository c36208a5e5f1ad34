/**
 * Stability of an equilibrium under small disturbances with the ends as they are held: no conjugate point along
 * the span (Jacobi's condition for a rod; Manning, Rogers and Maddocks, Proc R Soc A 1998;454:3047-3074, from
 * memory), and, where the end is free to turn or slide, a positive definite end stiffness on top.
 *
 * Y, the movement of a node by u, is the flexibility of the wire behind it: eliminated along the wire, the pivot of a step from Y to Y'
 * has the sign of det Y' det Y, and where all pivots are positive the whole is (Sylvester's law of inertia). A support adds to the
 * stiffness without being eliminated, so that the sign which it gives det Y (by det(1 + Y K), as Y becomes (1 + Y K)⁻¹ Y) tells nothing: what
 * would not stay by itself may be kept by the wire ahead.
 */
import { factorise, solveFactorised } from '../math/dense';
import type { HeldSpan } from './held-span';
import { COLUMNS, forceAt, type Span } from './span';

/** Uses the tangent of the last Newton step. */
export function isStable(held: HeldSpan): boolean {
  const { span, end } = held;
  if (span.loose) return span.loose.stable;
  const last = span.mesh.steps;
  // Positive at first, the determinant vanishes at a conjugate point.
  let sign = signAtEnd(span);
  for (let i = last; i > 0; i--) {
    if ((last - i) % STRIDE === 0) {
      for (let k = 0; k < 36; k++) matrix[k] = span.columns[COLUMNS * i + k];
      if (sign * factorise(matrix, 6, pivots) < 0) return false;
    }
    sign *= turnAt(span, i);
  }
  return end.kind === 'clamped' || endIsStable(held);
}

const STRIDE = 3;

/** Sign that the determinant of Y has at a span's end where no step has turned it. */
export function signAtEnd({ supports }: Span): number {
  return supports ? supports.turns.reduce((sign, turn) => sign * turn, 1) : 1;
}

/** Of a support at a node, whose columns are those ahead of it: -1 where behind it the sign is another. */
export function turnAt({ supports, segment }: Span, node: number): number {
  return supports && segment[node] !== segment[node - 1] && node < segment.length
    ? supports.turns[segment[node] / 6 - 1]
    : 1;
}

const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
const inverse = new Float64Array(36);

/** Stiffness of an end that is not clamped against its free movements: turning, sliding along the mesial axis where untied, all where it is free. */
export function endIsStable({ span, end }: HeldSpan): boolean {
  const last = span.mesh.steps;
  // Rows: pose of the end by u. Its inverse gives du by the end's movement.
  for (let r = 0; r < 6; r++) for (let c = 0; c < 6; c++) matrix[6 * r + c] = span.columns[COLUMNS * last + 6 * c + r];
  if (factorise(matrix, 6, pivots) === 0) return false;
  invert();
  const [x, y, z] = span.position.subarray(3 * last, 3 * last + 3);
  const force = forceAt(span, last);
  const [nx, ny, nz] = span.u.subarray(force + 3, force + 6);
  const size = end.kind === 'free' ? 6 : end.tied ? 3 : 4;
  const stiffness = new Float64Array(size * size);
  for (let c = 0; c < size; c++) {
    const move: number[] = [0, 0, 0, 0, 0, 0];
    if (c < 3) move[c] = 1;
    else if (end.kind === 'free') move[c] = 1;
    else for (let k = 0; k < 3; k++) move[3 + k] = end.axes[k];
    const du = [0, 0, 0, 0, 0, 0];
    for (let r = 0; r < 6; r++) for (let k = 0; k < 6; k++) du[r] += inverse[6 * r + k] * move[k];
    // Moment at the end: m₀ - r × n; its change at the end section.
    const [a, b, d] = [move[3], move[4], move[5]];
    const rows = [
      du[0] - (y * du[5] - z * du[4]) - (b * nz - d * ny),
      du[1] - (z * du[3] - x * du[5]) - (d * nx - a * nz),
      du[2] - (x * du[4] - y * du[3]) - (a * ny - b * nx),
      ...(end.kind === 'free'
        ? [du[3], du[4], du[5]]
        : [end.axes[0] * du[3] + end.axes[1] * du[4] + end.axes[2] * du[5]]),
    ];
    for (let r = 0; r < size; r++) stiffness[r * size + c] = rows[r];
  }
  return isPositiveDefinite(stiffness, size);
}

function invert(): void {
  for (let c = 0; c < 6; c++) {
    const unit = new Float64Array(6);
    unit[c] = 1;
    solveFactorised(matrix, 6, pivots, unit);
    for (let r = 0; r < 6; r++) inverse[6 * r + c] = unit[r];
  }
}

/** By the symmetric part's leading minors (Cholesky). */
function isPositiveDefinite(a: Float64Array, n: number): boolean {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0.5 * (a[i * n + j] + a[j * n + i]);
      for (let k = 0; k < j; k++) sum -= l[i * n + k] * l[j * n + k];
      if (i === j) {
        if (!(sum > 0)) return false;
        l[i * n + i] = Math.sqrt(sum);
      } else {
        l[i * n + j] = sum / l[j * n + j];
      }
    }
  }
  return true;
}
