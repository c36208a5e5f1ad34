/** What an integrated step misses the next node's stored pose by. */
import type { Span } from './span';

/** Where the step last integrated arrives: rotation (w, x, y, z) and position. */
export const arrival = new Float64Array(7);

/** Records by how much the arrival misses a node. */
export function recordDefect({ rotation, position, defect }: Span, node: number): void {
  const aw = arrival[0];
  const ax = arrival[1];
  const ay = arrival[2];
  const az = arrival[3];
  const nw = rotation[4 * node];
  const nx = rotation[4 * node + 1];
  const ny = rotation[4 * node + 2];
  const nz = rotation[4 * node + 3];
  const dw = aw * nw + ax * nx + ay * ny + az * nz;
  const dx = -aw * nx + ax * nw - ay * nz + az * ny;
  const dy = -aw * ny + ax * nz + ay * nw - az * nx;
  const dz = -aw * nz - ax * ny + ay * nx + az * nw;
  const factor = rotationFactor(dw, dx * dx + dy * dy + dz * dz);
  const at = 6 * node;
  defect[at] = factor * dx;
  defect[at + 1] = factor * dy;
  defect[at + 2] = factor * dz;
  defect[at + 3] = arrival[4] - position[3 * node];
  defect[at + 4] = arrival[5] - position[3 * node + 1];
  defect[at + 5] = arrival[6] - position[3 * node + 2];
}

/** Rotation vector of a unit quaternion over its vector part, whose square is given. */
export function rotationFactor(w: number, square: number): number {
  if (square < 1e-4) {
    const small = 2 + square * (1 / 3 + square * (3 / 20));
    return w < 0 ? -small : small;
  }
  const size = Math.sqrt(square);
  return w < 0 ? (-2 * Math.atan2(size, -w)) / size : (2 * Math.atan2(size, w)) / size;
}
