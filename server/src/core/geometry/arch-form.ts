/**
 * Arch forms: plane curves, symmetrical about the midline, along which the teeth stand. Distances along a form are
 * counted from the midline, positive toward the patient's left; its plane has the patient's left as first and anterior
 * as second coordinate, mm.
 */
export type Point = readonly [number, number];

export interface ArchForm {
  /** From the midline to the end of either half, mm. */
  readonly half: number;
  /** Place at a distance along the form, |distance| ≤ half. */
  pointAt(distance: number): Point;
  /** Angle by which the form, run toward the left, has turned from the left toward anterior, rad. */
  angleAt(distance: number): number;
}

/**
 * The beta function of Braun and others: anterior y = D (4 (1/4 - x²/W²))^0.8, the form of handbook section 7.4
 * (3.0314 there is 4^0.8, so that y(0) = D). With x = W/2 sin φ it is y = D cos^1.6 φ, without the upright ends of y(x).
 *
 * @param width  W, mm, between the ends of the form
 * @param depth  D, mm, from the front to the line between the ends
 */
export function betaArch(width: number, depth: number): ArchForm {
  const along = (angle: number) => (width / 2) * Math.cos(angle);
  const across = (angle: number) => -1.6 * depth * Math.max(Math.cos(angle), 0) ** 0.6 * Math.sin(angle);
  const speed = (angle: number) => Math.hypot(along(angle), across(angle));
  // Length from the midline to each bound; beyond, the rest of a panel is integrated.
  const lengths = [0];
  for (let k = 1; k < BOUNDS.length; k++) lengths.push(lengths[k - 1] + integral(speed, BOUNDS[k - 1], BOUNDS[k]));
  const half = lengths[lengths.length - 1];
  const angleOf = (distance: number) => {
    const sought = Math.min(Math.abs(distance), half);
    let panel = 1;
    while (panel + 1 < BOUNDS.length && lengths[panel] < sought) panel++;
    let [low, high] = [BOUNDS[panel - 1], BOUNDS[panel]];
    let angle = (low + high) / 2;
    // Newton, kept between bounds: the speed falls to nought at the end.
    for (let k = 0; k < MOST_ITERATIONS; k++) {
      const error = lengths[panel - 1] + integral(speed, BOUNDS[panel - 1], angle) - sought;
      if (Math.abs(error) < TOLERANCE) break;
      if (error > 0) high = angle;
      else low = angle;
      const next = angle - error / speed(angle);
      angle = next > low && next < high ? next : (low + high) / 2;
    }
    return Math.sign(distance) * angle;
  };
  return {
    half,
    pointAt(distance) {
      const angle = angleOf(distance);
      return [(width / 2) * Math.sin(angle), depth * Math.max(Math.cos(angle), 0) ** 1.6];
    },
    angleAt(distance) {
      const angle = angleOf(distance);
      return Math.atan2(across(angle), along(angle));
    },
  };
}

/**
 * A hanging chain: c (cosh(x/c) - 1) behind the front, with c such that it is D deep at half the width W (handbook 7.4).
 * Its length is 2 c sinh(W/2c).
 */
export function catenaryArch(width: number, depth: number): ArchForm {
  const c = catenaryParameter(width, depth);
  return {
    half: c * Math.sinh(width / 2 / c),
    pointAt(distance) {
      const x = c * Math.asinh(distance / c);
      return [x, depth - c * (Math.cosh(x / c) - 1)];
    },
    angleAt: (distance) => -Math.atan(distance / c),
  };
}

/** The c of a catenary of this width and depth, mm. */
export function catenaryParameter(width: number, depth: number): number {
  // With r = W/2c: (cosh r - 1)/r = 2D/W, which rises with r.
  const ratio = (2 * depth) / width;
  let low = 0;
  let high = 1;
  while ((Math.cosh(high) - 1) / high < ratio) high *= 2;
  for (let k = 0; k < 200 && high - low > 1e-15 * high; k++) {
    const middle = (low + high) / 2;
    if ((Math.cosh(middle) - 1) / middle < ratio) low = middle;
    else high = middle;
  }
  return width / (low + high);
}

/** mm along the curve. */
const TOLERANCE = 1e-9;
const MOST_ITERATIONS = 60;

/** Panels from the midline (0) to the end (π/2), ever shorter toward the end, where the speed goes with a broken power. */
const BOUNDS: readonly number[] = [
  ...Array.from({ length: 24 }, (_, k) => (k / 24) * (Math.PI / 2 - 0.2)),
  ...Array.from({ length: 40 }, (_, k) => Math.PI / 2 - 0.2 * 0.6 ** k),
  Math.PI / 2,
];

/** Gauss's rule of five points. */
function integral(f: (x: number) => number, from: number, to: number): number {
  const [middle, half] = [(from + to) / 2, (to - from) / 2];
  let sum = GAUSS_MIDDLE * f(middle);
  for (const [place, weight] of GAUSS) sum += weight * (f(middle - half * place) + f(middle + half * place));
  return half * sum;
}

const GAUSS_MIDDLE = 128 / 225;
const GAUSS = [
  [Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3, (322 + 13 * Math.sqrt(70)) / 900],
  [Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3, (322 - 13 * Math.sqrt(70)) / 900],
] as const;
