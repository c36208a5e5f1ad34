/**
 * What drives a bent wire out of a slot that it slides through without friction, besides its tension.
 *
 * The energy of wire and attachments changes with the length drawn out by H = n·r' + m·(κ₀ + K⁻¹m) - W, with W the
 * strain energy per length; at the edge of a slot, where the wire is straight (κ₀ = 0), by
 * H = n·t + ½ m·K⁻¹m + ½ n·C⁻¹n. A wire that ends free behind the slot slides until H = 0. (The configurational, or
 * material, force of a rod: Bigoni, Dal Corso, Bosi and Misseroni, "Eshelby-like forces acting on elastic structures",
 * Mech. Mater. 80 (2015); cited from memory.)
 */
import type { Drive, HeldSpan } from './held-span';
import { strainRates } from './strain-rates';

/**
 * H - n·t, N, at the end of the span where a drive draws wire; `byForces` receives the derivative by u = (m₀, n)
 * with the end's pose held.
 */
export function slidingForce({ span, end }: HeldSpan, drive: Drive, byForces: Float64Array): number {
  const atStart = drive.kind === 'draw-start';
  const node = atStart ? 0 : span.mesh.steps;
  const axis = drive.force;
  strainRates(span, node, rates);
  const { u } = span;
  const [x, y, z] = atStart ? [0, 0, 0] : end.position;
  const [ax, ay, az] = rates;
  // r' - t, as the slot holds the tangent.
  const bx = rates[3] - axis[0];
  const by = rates[4] - axis[1];
  const bz = rates[5] - axis[2];
  byForces[0] = ax;
  byForces[1] = ay;
  byForces[2] = az;
  // The moment at the end is m₀ - r × n.
  byForces[3] = bx - (ay * z - az * y);
  byForces[4] = by - (az * x - ax * z);
  byForces[5] = bz - (ax * y - ay * x);
  let force = 0;
  for (let k = 0; k < 6; k++) force += 0.5 * byForces[k] * u[k];
  return force;
}

const rates = new Float64Array(6);
