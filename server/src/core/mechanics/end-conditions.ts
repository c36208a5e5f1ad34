/**
 * How the end of a span is held, as six linearised rows. With x = (rotation, displacement) of the end node
 * and u = (m₀, n), an end condition reads  X δx + U δu = g  and  g changes with the motion at the rate `t`.
 * The start of a span is held by its frame: it is the origin.
 */
import { rotationFactor } from './defect';
import { COLUMNS, forceAt, type Span } from './span';

export interface EndCondition {
  /** A free end bears nothing. */
  readonly kind: 'clamped' | 'point' | 'free';
  /** Where the end has to be: rotation (w, x, y, z; clamped only) and position. */
  readonly rotation: Float64Array;
  readonly position: Float64Array;
  /** Point only: the slot's mesial, gingival and buccal axes, one after the other. */
  readonly axes: Float64Array;
  /** Point only: held along the mesial axis too. */
  readonly tied: boolean;
  /** Displacement of the position per mm of the motion. */
  readonly rate: Float64Array;
}

/** X times a vector (rotation, displacement): 6 numbers from `x[at...]` into `into[to, to + stride, ...]`. */
export function applyPose(
  end: EndCondition,
  span: Span,
  x: Float64Array,
  at: number,
  into: Float64Array,
  to: number,
  stride: number,
): void {
  if (end.kind === 'clamped') {
    for (let k = 0; k < 6; k++) into[to + k * stride] = x[at + k];
    return;
  }
  if (end.kind === 'free') {
    for (let k = 0; k < 6; k++) into[to + k * stride] = 0;
    return;
  }
  const { u } = span;
  const force = forceAt(span, span.mesh.steps);
  const nx = u[force + 3];
  const ny = u[force + 4];
  const nz = u[force + 5];
  const dx = x[at + 3];
  const dy = x[at + 4];
  const dz = x[at + 5];
  into[to] = ny * dz - nz * dy;
  into[to + stride] = nz * dx - nx * dz;
  into[to + 2 * stride] = nx * dy - ny * dx;
  const { axes } = end;
  into[to + 3 * stride] = axes[3] * dx + axes[4] * dy + axes[5] * dz;
  into[to + 4 * stride] = axes[6] * dx + axes[7] * dy + axes[8] * dz;
  into[to + 5 * stride] = end.tied ? axes[0] * dx + axes[1] * dy + axes[2] * dz : 0;
}

/** Adds U to the 6 × 6 row-major matrix. */
export function addForceRows(end: EndCondition, span: Span, matrix: Float64Array): void {
  if (end.kind === 'clamped') return;
  if (end.kind === 'free') {
    for (let k = 0; k < 6; k++) matrix[7 * k] += 1;
    return;
  }
  // Moment at the end: m₀ + q × n with q = -position.
  const at = 3 * span.mesh.steps;
  const x = span.position[at];
  const y = span.position[at + 1];
  const z = span.position[at + 2];
  matrix[0] += 1;
  matrix[7] += 1;
  matrix[14] += 1;
  matrix[4] += z;
  matrix[5] -= y;
  matrix[9] -= z;
  matrix[11] += x;
  matrix[15] += y;
  matrix[16] -= x;
  if (!end.tied) for (let k = 0; k < 3; k++) matrix[33 + k] += end.axes[k];
}

/** g: what is missing of the end condition at the stored state, 6 numbers. */
export function missing(end: EndCondition, span: Span, into: Float64Array): void {
  const { u, rotation, position } = span;
  if (end.kind === 'free') {
    const last = forceAt(span, span.mesh.steps);
    for (let k = 0; k < 6; k++) into[k] = -u[last + k];
    return;
  }
  const at = 3 * span.mesh.steps;
  const dx = end.position[0] - position[at];
  const dy = end.position[1] - position[at + 1];
  const dz = end.position[2] - position[at + 2];
  if (end.kind === 'clamped') {
    const q = 4 * span.mesh.steps;
    const aw = end.rotation[0];
    const ax = end.rotation[1];
    const ay = end.rotation[2];
    const az = end.rotation[3];
    const nw = rotation[q];
    const nx = rotation[q + 1];
    const ny = rotation[q + 2];
    const nz = rotation[q + 3];
    const w = aw * nw + ax * nx + ay * ny + az * nz;
    const x = -aw * nx + ax * nw - ay * nz + az * ny;
    const y = -aw * ny + ax * nz + ay * nw - az * nx;
    const z = -aw * nz - ax * ny + ay * nx + az * nw;
    const factor = rotationFactor(w, x * x + y * y + z * z);
    into[0] = factor * x;
    into[1] = factor * y;
    into[2] = factor * z;
    into[3] = dx;
    into[4] = dy;
    into[5] = dz;
    return;
  }
  const { axes } = end;
  const force = forceAt(span, span.mesh.steps);
  const nx = u[force + 3];
  const ny = u[force + 4];
  const nz = u[force + 5];
  into[0] = -(u[force] - position[at + 1] * nz + position[at + 2] * ny);
  into[1] = -(u[force + 1] - position[at + 2] * nx + position[at] * nz);
  into[2] = -(u[force + 2] - position[at] * ny + position[at + 1] * nx);
  into[3] = axes[3] * dx + axes[4] * dy + axes[5] * dz;
  into[4] = axes[6] * dx + axes[7] * dy + axes[8] * dz;
  into[5] = end.tied ? axes[0] * dx + axes[1] * dy + axes[2] * dz : -(axes[0] * nx + axes[1] * ny + axes[2] * nz);
}

/** t: change of g per mm of the motion, 6 numbers. */
export function missingRate(end: EndCondition, into: Float64Array): void {
  const { rate, axes } = end;
  if (end.kind === 'clamped') {
    into[0] = into[1] = into[2] = 0;
    for (let k = 0; k < 3; k++) into[3 + k] = rate[k];
    return;
  }
  if (end.kind === 'free') {
    into.fill(0);
    return;
  }
  into[0] = into[1] = into[2] = 0;
  into[3] = axes[3] * rate[0] + axes[4] * rate[1] + axes[5] * rate[2];
  into[4] = axes[6] * rate[0] + axes[7] * rate[1] + axes[8] * rate[2];
  into[5] = end.tied ? axes[0] * rate[0] + axes[1] * rate[1] + axes[2] * rate[2] : 0;
}

/** Composes X Y + U into the 6 × 6 matrix and g - X y into the right side, from the columns at the end node. */
export function assembleEnd(end: EndCondition, span: Span, matrix: Float64Array, rightSide: Float64Array): void {
  const at = COLUMNS * span.mesh.steps;
  for (let c = 0; c < 6; c++) applyPose(end, span, span.columns, at + 6 * c, matrix, c, 6);
  addForceRows(end, span, matrix);
  missing(end, span, rightSide);
  applyPose(end, span, span.columns, at + 36, scratch, 0, 1);
  for (let k = 0; k < 6; k++) rightSide[k] -= scratch[k];
}

const scratch = new Float64Array(6);
