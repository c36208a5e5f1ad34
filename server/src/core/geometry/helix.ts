/** A helix wound from a wire: the piece of constant curvature and torsion, and how the arms meet it. */
import type { WireElement } from '../design';
import { rotationMatrix, rotationVector } from '../math/rotation';
import { addScaled, cross, multiply, norm, scale, transpose, type Vec3, zeroVector } from '../math/vector';

export interface Helix {
  /** Mean diameter, centre line to centre line, mm. */
  readonly diameter: number;
  readonly turns: number;
  /** From turn to turn along the helix' own axis, mm; positive winds right-handed, negative left-handed. */
  readonly pitch: number;
}

/**
 * The elements of a helix that winds about `axis`, a unit vector of the section frame square to the tangent.
 *
 * Whole turns: the wire enters and leaves in its own line, so that the arms lie beside the coils as these lie beside each
 * other. For that the helix' own axis leans from `axis` toward the tangent by the coil's slope, atan(pitch / (π diameter)).
 * Every direction comes back, and the wire goes on parallel to where it came in, turns × pitch along the leaning axis.
 *
 * Other turns cannot leave in one plane with where they entered, as the slope then points out of it at one end. They lean less
 * (not at all after half a turn more) and the arms meet the coil under a sharp turn of about the slope, the same at both ends
 * after half a turn. The wire leaves in a plane parallel to that of its entry, turned about `axis` by turns × 360° exactly.
 *
 * Length: turns × √((π diameter)² + pitch²) (handbook 3.9).
 */
export function helixElements(axis: Vec3, { diameter, turns, pitch }: Helix): readonly WireElement[] {
  const round = Math.PI * diameter;
  const angle = 2 * Math.PI * turns;
  const slope = Math.atan2(pitch, round);
  const coil = addScaled(scale(axis, angle * Math.cos(slope)), TANGENT, angle * Math.sin(slope));
  const into = scale(cross(TANGENT, axis), (slope * (1 - Math.cos(angle))) / 2);
  const wound = multiply(rotationMatrix(into), rotationMatrix(coil));
  const outOf = rotationVector(multiply(transpose(wound), rotationMatrix(scale(axis, angle))));
  return [corner(into), { ...corner(coil), length: turns * Math.hypot(round, pitch) }, corner(outOf)].filter(
    ({ length, shape }) => length > 0 || norm(shape) > NO_TURN,
  );
}

function corner(shape: Vec3): WireElement {
  return { length: 0, shape, preactivation: zeroVector };
}

const TANGENT: Vec3 = [1, 0, 0];

/** What rounding leaves of many turns, rad. */
const NO_TURN = 1e-9;
