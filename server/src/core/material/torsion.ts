/**
 * Torsion of a rectangular bar, Saint-Venant series (Timoshenko and Goodier, Theory of Elasticity,
 * article on torsion of rectangular bars; handbook 3.2). Sides a ≥ b; free warping.
 */

/** J / (a b³) */
export function rectangleTorsionFactor(a: number, b: number): number {
  // sum tanh(n pi a / 2b) / n⁵ over odd n; tanh leaves 1 so little that a few terms of the difference do.
  let sum = ODD_FIFTH_POWERS;
  for (let n = 1; n <= 9; n += 2) sum -= (1 - Math.tanh((n * Math.PI * a) / (2 * b))) / n ** 5;
  return (1 / 3) * (1 - ((192 * b) / (Math.PI ** 5 * a)) * sum);
}

/**
 * What rounding the four corners to the radius r takes off the torsion constant, mm⁴ for mm; r up to b / 2.
 *
 * Near a sharp corner Prandtl's stress function is (4/π) x y ln(L/ρ) to leading order (of ∇²φ = -2 with φ = 0 on both
 * sides), so a corner rounded to r costs r⁴ times the square of such a logarithm. Its two constants, and how L goes with the
 * sides, are those of finite-difference solutions of φ for a/b from 1 to 6; with them J is right to 3e-4 for r up to 0.4 b
 * (`tests/core/torsion.test.ts` solves some again). The last term makes a square rounded to its half side the circle, exactly.
 */
export function roundedCornersLoss(a: number, b: number, r: number): number {
  if (r === 0) return 0;
  const reach = REACH * Math.exp(SQUARENESS * Math.exp(Math.PI * (1 - a / b)));
  return r ** 4 * (CORNER_SLOPE * Math.log(((reach - CIRCLE * ((2 * r) / b) ** 5) * b) / r)) ** 2;
}

/** Sum of 1 / n⁵ over odd n: 31/32 ζ(5). */
const ODD_FIFTH_POWERS = (31 / 32) * 1.03692775514337;

const CORNER_SLOPE = 0.5366;
const REACH = 2.825;
const SQUARENESS = -0.1672;
/** A square of side 1 loses 16 (β - π/32) r⁴ at r = 1/2. */
const CIRCLE =
  REACH * Math.exp(SQUARENESS) -
  0.5 * Math.exp(Math.sqrt(16 * (rectangleTorsionFactor(1, 1) - Math.PI / 32)) / CORNER_SLOPE);

/**
 * Shear stress on the surface for unit torque, times a b²: on the long side at the fraction `along`
 * (0 middle, 1 corner) of its half length. Its value at 0 is 1 / α, the largest of the section.
 */
export function longSideShear(a: number, b: number, along: number): number {
  // (8 / pi²) sum (1 - cosh(n pi z / b) / cosh(n pi a / 2b)) / n² over odd n, where sum 1 / n² = pi² / 8.
  let sum = 0;
  for (let n = 1; n <= TERMS; n += 2) {
    const half = (n * Math.PI * a) / (2 * b);
    sum += coshRatio(half * along, half) / (n * n);
  }
  return (1 - (8 / Math.PI ** 2) * sum) / rectangleTorsionFactor(a, b);
}

/** The same on the short side, at the fraction `along` of its half length from its middle. */
export function shortSideShear(a: number, b: number, along: number): number {
  // (8 / pi²) sum ± tanh(n pi a / 2b) cos(n pi y / b) / n² over odd n.
  let sum = 0;
  for (let n = 1; n <= TERMS; n += 2) {
    const sign = n % 4 === 1 ? 1 : -1;
    sum += (sign * Math.tanh((n * Math.PI * a) / (2 * b)) * Math.cos((n * Math.PI * along) / 2)) / (n * n);
  }
  return ((8 / Math.PI ** 2) * sum) / rectangleTorsionFactor(a, b);
}

/**
 * Shear strain inside a rectangle by twist per length, along x and along y: sides 2a along x and 2b along y, at the place (x, y)
 * from its middle, all in mm (Timoshenko and Goodier, the same article: derivatives of the stress function's series).
 */
export function rectangleShear(a: number, b: number, x: number, y: number): readonly [number, number] {
  // The series runs across the shorter side, where it converges; seen from behind, the twist goes the other way round.
  if (a > b) {
    const [alongY, alongX] = rectangleShear(b, a, y, x);
    return [-alongX, -alongY];
  }
  let alongX = 0;
  let alongY = 0;
  for (let n = 1; n <= TERMS; n += 2) {
    const sign = n % 4 === 1 ? 1 : -1;
    const wave = (n * Math.PI) / (2 * a);
    const [here, edge] = [wave * Math.abs(y), wave * b];
    const sinhRatio = (Math.exp(here - edge) * (1 - Math.exp(-2 * here))) / (1 + Math.exp(-2 * edge));
    alongX -= ((sign * Math.sign(y)) / (n * n)) * sinhRatio * Math.cos(wave * x);
    alongY += (sign / (n * n)) * (1 - coshRatio(here, edge)) * Math.sin(wave * x);
  }
  const factor = (16 * a) / Math.PI ** 2;
  return [factor * alongX, factor * alongY];
}

/** Surface shear to full precision in the middle of the long side, to 1e-3 elsewhere. */
const TERMS = 31;

/** cosh x / cosh y for 0 ≤ x ≤ y, without overflow. */
function coshRatio(x: number, y: number): number {
  return (Math.exp(x - y) * (1 + Math.exp(-2 * x))) / (1 + Math.exp(-2 * y));
}
