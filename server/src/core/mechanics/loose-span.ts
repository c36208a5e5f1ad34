/**
 * Newton's linear system of a span that is held by its supports alone, so that it has no end from which its flexibility
 * could be carried on (integrate.ts). Instead the stiffness of the wire behind is carried on from the free start: the force
 * of a step changes by Δu = S Δx + s as its first node moves by x = (rotation, displacement). A support adds its own
 * stiffness to S; over a step, whose end moves by Δx' = Φ Δx + Ψ Δu + d, with G = Φ + Ψ S,
 *
 *   S' = S G⁻¹,   s' = s - S' (Ψ s + d).
 *
 * Wire that touches nothing has no stiffness and loses no digits by it. (A block elimination along the wire; the sign of
 * det G is that of the pivot Ψ⁻¹Φ + S, which tells of stability as in stability.ts.)
 */
import { factorise, solveFactorised, solveRow } from '../math/dense';
import { forceAt, type Span } from './span';
import { integrateSpatial, transferSpatial } from './spatial-step';

/**
 * N/mm and N mm that hold every node of the start where it is while Newton steps: wire that nothing holds stays where it is,
 * and nothing of it is left in the equilibrium.
 */
const KEEPING = 1e-6;

/**
 * Integrates step i and fills its defect, Φ and Ψ (36 numbers, row-major) and d, how far it arrives from the node's place by itself;
 * false where it is singular.
 */
export type StepTransfer = (i: number, moves: Float64Array, forces: Float64Array, own: Float64Array) => boolean;

function elasticTransfer(span: Span): StepTransfer {
  return (i, moves, forces, own) => {
    integrateSpatial(span, i, true);
    transferSpatial(span.mesh.h[i], moves, forces);
    for (let k = 0; k < 6; k++) own[k] = span.defect[6 * i + 6 + k];
    return true;
  };
}

/** Sweeps the span's steps and eliminates along them; false where the system is singular. Fills the span's defects. */
export function sweepLoose(span: Span, transferStep = elasticTransfer(span)): boolean {
  const { mesh, u, segment, supports } = span;
  const { stiffness: S, rest } = span.loose!;
  span.loose!.stable = true;
  clearDefect(span, 1);
  // The step behind the first node bears nothing.
  stiff.fill(0);
  for (let k = 0; k < 6; k++) {
    stiff[7 * k] = KEEPING;
    free[k] = -u[k];
  }
  for (let i = 1; i < mesh.steps; i++) {
    if (segment[i] !== segment[i - 1]) {
      const k = segment[i] / 6 - 1;
      for (let r = 0; r < 36; r++) stiff[r] += supports!.stiffness[36 * k + r];
      for (let r = 0; r < 6; r++) free[r] += u[6 * k + r] - supports!.wrench[6 * k + r] - u[6 * k + 6 + r];
    }
    S.set(stiff, 36 * i);
    rest.set(free, 6 * i);
    if (!transferStep(i, moves, forces, arrives)) return false;
    if (!eliminate(span, i)) return false;
  }
  return true;
}

/** Carries `stiff` and `free` over step i. */
function eliminate({ loose }: Span, i: number): boolean {
  const { transfer, pivots, shift } = loose!;
  const matrix = transfer.subarray(36 * i, 36 * i + 36);
  const rows = pivots.subarray(6 * i, 6 * i + 6);
  for (let r = 0; r < 6; r++) {
    let sum = arrives[r];
    for (let j = 0; j < 6; j++) sum += forces[6 * r + j] * free[j];
    shift[6 * i + r] = sum;
    for (let c = 0; c < 6; c++) {
      let entry = moves[6 * r + c];
      for (let j = 0; j < 6; j++) entry += forces[6 * r + j] * stiff[6 * j + c];
      matrix[6 * r + c] = entry;
    }
  }
  const determinant = factorise(matrix, 6, rows);
  if (determinant === 0 || !Number.isFinite(determinant)) return false;
  if (determinant < 0) loose!.stable = false;
  // S' = S G⁻¹, row by row.
  for (let r = 0; r < 6; r++) solveRow(matrix, 6, rows, stiff, 6 * r);
  for (let r = 0; r < 6; r++) for (let j = 0; j < 6; j++) free[r] -= stiff[6 * r + j] * shift[6 * i + j];
  return true;
}

/**
 * The last node's movement into `end`, from the force that the free end does not bear; false where it is singular.
 * Tells whether the end would stay.
 */
export function solveLooseEnd(span: Span, end: Float64Array): boolean {
  const last = forceAt(span, span.mesh.steps);
  for (let r = 0; r < 36; r++) next[r] = stiff[r];
  for (let k = 0; k < 6; k++) end[k] = -span.u[last + k] - free[k];
  span.loose!.stable &&= isStiff(span);
  if (factorise(next, 6, endPivots) === 0) return false;
  solveFactorised(next, 6, endPivots, end);
  return true;
}

/** From the movement of node i + 1 (in `x`) that of node i, and the change of the force of step i between them into `du`. */
export function passBack({ loose }: Span, i: number, x: Float64Array, du: Float64Array): void {
  const { stiffness: S, rest, transfer, pivots, shift } = loose!;
  for (let k = 0; k < 6; k++) x[k] -= shift[6 * i + k];
  solveFactorised(transfer.subarray(36 * i, 36 * i + 36), 6, pivots.subarray(6 * i, 6 * i + 6), x);
  for (let r = 0; r < 6; r++) {
    let sum = rest[6 * i + r];
    for (let c = 0; c < 6; c++) sum += S[36 * i + 6 * r + c] * x[c];
    du[r] = sum;
  }
}

/** Whether the free end resists every movement: its stiffness about its own place has no negative eigenvalue. */
function isStiff(span: Span): boolean {
  const at = 3 * span.mesh.steps;
  const [x, y, z] = [span.position[at], span.position[at + 1], span.position[at + 2]];
  // Moments about the end: m - r × n.
  for (let c = 0; c < 6; c++) {
    const [a, b, d] = [stiff[18 + c], stiff[24 + c], stiff[30 + c]];
    local[c] = stiff[c] - (y * d - z * b);
    local[6 + c] = stiff[6 + c] - (z * a - x * d);
    local[12 + c] = stiff[12 + c] - (x * b - y * a);
    local[18 + c] = a;
    local[24 + c] = b;
    local[30 + c] = d;
  }
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0.5 * (local[6 * i + j] + local[6 * j + i]);
      for (let k = 0; k < j; k++) sum -= factor[6 * i + k] * factor[6 * j + k];
      if (i !== j) factor[6 * i + j] = factor[6 * j + j] > 0 ? sum / factor[6 * j + j] : 0;
      else if (sum < -ROUNDING * Math.abs(local[7 * i]) - KEEPING) return false;
      else factor[7 * i] = Math.sqrt(Math.max(sum, 0));
    }
  }
  return true;
}

/** Of a stiffness, that its elimination may leave. */
const ROUNDING = 1e-9;

function clearDefect({ defect }: Span, node: number): void {
  defect.fill(0, 6 * node, 6 * node + 6);
}

const stiff = new Float64Array(36);
const free = new Float64Array(6);
const next = new Float64Array(36);
const local = new Float64Array(36);
const factor = new Float64Array(36);
const moves = new Float64Array(36);
const forces = new Float64Array(36);
const arrives = new Float64Array(6);
const endPivots = new Int32Array(6);
