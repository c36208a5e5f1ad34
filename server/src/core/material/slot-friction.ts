/** Forces between a wire and the walls of its slot, and the friction that they allow. */
import type { Vec3 } from '../math/vector';

/**
 * Sum of the normal forces, N, with which the wire presses on the walls. `force` (N) and `moment` (N mm) of the wire on the
 * slot about its middle, along the slot, its height and its depth. Over a slot of `length` (mm) the moments across are borne
 * by a couple of its two edges: this is binding (Kusy and Whitley, handbook 2.4); a torque by a couple over the wire's `width`
 * (mm; 0 for round wire, which turns). A slot without length bears no couple.
 */
export function normalForces(force: Vec3, moment: Vec3, length: number, width: number): number {
  const torque = width > 0 ? (2 * Math.abs(moment[0])) / width : 0;
  if (!(length > 0)) return Math.hypot(force[1], force[2]) + torque;
  const [height, depth] = [moment[2] / length, -moment[1] / length];
  return (
    Math.hypot(force[1] / 2 + height, force[2] / 2 + depth) +
    Math.hypot(force[1] / 2 - height, force[2] / 2 - depth) +
    torque
  );
}
