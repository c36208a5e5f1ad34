/**
 * A fibre that is stretched and sheared by torsion, both yielding together by von Mises with linear kinematic hardening
 * (Prager), returned to the yield surface along the plastic flow (Simo and Hughes, Computational Inelasticity, chapters 1 and 3,
 * from memory). With X the elastic strain along the wire, Y = √3 (G/E) times the elastic shear, in both directions across it, and H the slope of
 * hardening over plastic strain, the surface is X² + Y² = limit², and a step that ends on it from the trial strains X', Y' has
 *
 *   X = X' / (1 + λ),   Y = Y' / (1 + bλ),   b = (3G + H) / (E + H),
 *
 * so that shear keeps its direction.
 */
import type { FibreLaw } from './uniaxial-law';

export interface ShearLaw {
  /** Beside each other, as in a fibre's own law: the one that slips and the one that goes on, MPa of shear. */
  readonly modulus: number;
  readonly parallel: number;
  /** Y by elastic shear: √3 G/E. */
  readonly scale: number;
  /** b. */
  readonly ratio: number;
}

/** Of an alloy that is elastic and plastic; none of another, whose torsion stays elastic. */
export function shearLaw(law: FibreLaw, shearModulus: number): ShearLaw | undefined {
  if (law.kind !== 'elastic-plastic') return undefined;
  const modulus = law.modulus + law.parallel;
  const hardening = (modulus * law.parallel) / law.modulus;
  const parallel = (shearModulus * hardening) / (3 * shearModulus + hardening);
  return {
    modulus: shearModulus - parallel,
    parallel,
    scale: (Math.sqrt(3) * shearModulus) / modulus,
    ratio: (3 * shearModulus + hardening) / (modulus + hardening),
  };
}

/** What is left of a trial state's strain and shear on its way back to the surface: 1 / (1 + λ) and 1 / (1 + bλ). */
export const returned = { along: 0, across: 0 };

/** Returns the trial strains X = `x` and Y of the square `ww` from beyond the surface to it. */
export function returnToSurface(x: number, ww: number, limit: number, b: number): void {
  const xx = x * x;
  const square = xx + ww;
  const enough = limit * limit;
  // Exact where b is 1 or one of the two is 0; b is never far from 1. The distance falls and flattens with λ, so that Newton
  // comes to its root from wherever it starts.
  let flow = ((Math.sqrt(square) / limit - 1) * square) / (xx + b * ww);
  let p = 1 / (1 + flow);
  let q = 1 / (1 + b * flow);
  for (let k = 0; k < MOST_ITERATIONS; k++) {
    const beyond = xx * p * p + ww * q * q - enough;
    if (Math.abs(beyond) <= CLOSE * enough) break;
    flow += beyond / (2 * (xx * p * p * p + b * ww * q * q * q));
    p = 1 / (1 + flow);
    q = 1 / (1 + b * flow);
  }
  returned.along = p;
  returned.across = q;
}

const MOST_ITERATIONS = 20;
const CLOSE = 1e-12;
