/**
 * Alloy figures from what a maker may declare instead of modulus and proof strength: force-deflection rate and 0.1 mm offset
 * bending force of the three-point test (ISO 15841:2014: span of 10 mm, the force in its middle).
 */

/** mm */
const SPAN = 10;

/** Through which the wire was bent, and across; a round wire has no width. mm */
export interface TestedSection {
  readonly thickness: number;
  readonly width: number | undefined;
}

/** MPa, from a rate in N/mm: k = 48 E I / l³ (small deflection, shear left out). */
export function modulusFromRate(rate: number, { thickness, width }: TestedSection): number {
  const inertia = width === undefined ? (Math.PI * thickness ** 4) / 64 : (width * thickness ** 3) / 12;
  return (rate * SPAN ** 3) / (48 * inertia);
}

/**
 * MPa, from the offset bending force in N: the stress at which the moment F l / 4 would make the whole section yield. The wire
 * has taken a set there and has not yet yielded throughout, so that this is a lower estimate, on the safe side.
 */
export function yieldFromForce(force: number, { thickness, width }: TestedSection): number {
  const plasticModulus = width === undefined ? thickness ** 3 / 6 : (width * thickness ** 2) / 4;
  return (force * SPAN) / 4 / plasticModulus;
}
