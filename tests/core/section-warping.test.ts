/**
 * Fibre sections, whose warping follows their yielding by some modes, against sections that warp freely: what is bent and twisted in proportion obeys deformation theory (Hencky; Kachanov, Foundations of the Theory of Plasticity, from
 * memory), by which the warping ψ is the one of least work, found over a mesh of bilinear quadrilaterals with secant moduli.
 */
import { expect, it } from 'vitest';
import { historySize } from '#core/material/fibre-history';
import { bendAndTwist, twistedAnswer } from '#core/material/section-moments';
import { SHEAR, twistedSection } from '#core/material/twisted-section';
import { fibreLaw } from '#core/material/uniaxial-law';
import { factorise, solveFactorised } from '#core/math/dense';

const E = 66_000;
const Y = 900;
const slope = 1320;
// Deformation theory is simplest of what keeps its volume, as plastic flow does.
const G = E / 3;
const law = fibreLaw({ kind: 'elastic-plastic', yield: Y, hardening: slope }, E);
const [height, width] = [0.4826, 0.635];
const rectangle = { kind: 'rectangle', height, width, cornerRadius: 0 } as const;

it.each([
  ['first yielding', 0.045, 0.02],
  ['strains of 3 %, twisted by 1.25° per mm', 0.0945, 0.0218],
  ['strains of 3 %, twisted by 2.5° per mm', 0.0945, 0.0436],
  ['strains of 5 %, twisted by 2.5° per mm', 0.16, 0.0436],
])('warps as it takes the least work: %s', (_, curvature, twist) => {
  const grid = { rows: 20, columns: 40, rings: 2, sectors: 2 };
  const fibres = twistedSection(rectangle, law, G, grid);
  const shear = fibres.torsion.shear.map((by, n) => (n % SHEAR < 2 ? by : 0));
  const stiff = { ...fibres, torsion: { ...fibres.torsion, shear } };
  const [own, ofStiff] = [fibres, stiff].map((section) => {
    const answer = twistedAnswer();
    bendAndTwist(section, new Float64Array(historySize(section)), 0, twist, curvature, 0, answer);
    return answer;
  });
  const { kept, free } = warpedSection(curvature, twist);
  // With the warping of elastic torsion it is the same section: what the two meshes over it differ by.
  expect(Math.abs(ofStiff.momentUp / kept.moment - 1)).toBeLessThan(2e-3);
  expect(Math.abs(ofStiff.torque / kept.torque - 1)).toBeLessThan(5e-3);
  // Any other warping than that of least work bears more; three modes come to it within that and a half per cent.
  expect(kept.work).toBeGreaterThan(free.work);
  expect(Math.abs(own.momentUp / free.moment - 1)).toBeLessThan(2e-3);
  expect(Math.abs(own.torque / free.torque - 1)).toBeLessThan(1e-2);
});

interface Warped {
  readonly moment: number;
  readonly torque: number;
  /** Of deformation, by length. */
  readonly work: number;
}

/** With the warping of elastic torsion kept, and with that of least work. */
function warpedSection(curvature: number, twist: number): { readonly kept: Warped; readonly free: Warped } {
  const points = meshPoints();
  let psi = warping(points, () => E);
  const kept = answer(psi);
  let moved = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 60 && moved > 1e-6; k++) {
    const now = psi;
    const next = warping(points, (point) => secant(equivalent(point, now)));
    moved = Math.max(...next.map((value, i) => Math.abs(value - now[i])));
    psi = next.map((value, i) => (value + now[i]) / 2);
  }
  expect(moved).toBeLessThan(1e-6);
  return { kept, free: answer(psi) };

  function shear({ nodes, byUp, bySide, up, side }: Point, by: Float64Array): readonly [number, number] {
    const slopeOf = (factors: readonly number[]) => nodes.reduce((sum, node, i) => sum + factors[i] * by[node], 0);
    return [twist * (slopeOf(byUp) - side), twist * (slopeOf(bySide) + up)];
  }

  function equivalent(point: Point, by: Float64Array): number {
    return Math.sqrt((curvature * point.side) ** 2 + Math.hypot(...shear(point, by)) ** 2 / 3);
  }

  function answer(by: Float64Array): Warped {
    let [moment, torque, work] = [0, 0, 0];
    for (const point of points) {
      const strain = equivalent(point, by);
      const stiff = secant(strain);
      const [a, b] = shear(point, by);
      moment += point.area * stiff * curvature * point.side ** 2;
      torque += (point.area * stiff * (a * a + b * b)) / (3 * twist);
      const beyond = Math.max(0, strain - Y / E);
      const elastic = strain - beyond;
      work += point.area * ((E * elastic ** 2) / 2 + Y * beyond + (slope * beyond ** 2) / 2);
    }
    return { moment, torque, work };
  }
}

function secant(strain: number): number {
  return strain <= Y / E ? E : (Y + slope * (strain - Y / E)) / strain;
}

interface Point {
  readonly nodes: readonly number[];
  /** Slopes of the four shape functions, 1/mm. */
  readonly byUp: readonly number[];
  readonly bySide: readonly number[];
  readonly up: number;
  readonly side: number;
  readonly area: number;
}

const PARTS = 14;

/** Two by two Gauss points in each of the section's quadrilaterals. */
function meshPoints(): Point[] {
  const [a, b] = [height / PARTS, width / PARTS];
  const ends = [-1 / Math.sqrt(3), 1 / Math.sqrt(3)];
  const points: Point[] = [];
  for (let i = 0; i < PARTS; i++) {
    for (let j = 0; j < PARTS; j++) {
      const first = i * (PARTS + 1) + j;
      for (const u of ends) {
        for (const v of ends) {
          points.push({
            nodes: [first, first + PARTS + 1, first + PARTS + 2, first + 1],
            byUp: [v - 1, 1 - v, 1 + v, -1 - v].map((x) => x / (2 * a)),
            bySide: [u - 1, -1 - u, 1 + u, 1 - u].map((x) => x / (2 * b)),
            up: (i + (1 + u) / 2) * a - height / 2,
            side: (j + (1 + v) / 2) * b - width / 2,
            area: (a * b) / 4,
          });
        }
      }
    }
  }
  return points;
}

/** The warping per twist at which the section is in balance along the wire, with these moduli; nought in its middle. */
function warping(points: readonly Point[], modulus: (point: Point) => number): Float64Array {
  const count = (PARTS + 1) ** 2;
  const matrix = new Float64Array(count * count);
  const right = new Float64Array(count);
  for (const point of points) {
    const { nodes, byUp, bySide, up, side, area } = point;
    const weight = (area * modulus(point)) / (E * height * width);
    for (const [i, row] of nodes.entries()) {
      right[row] += weight * (byUp[i] * side - bySide[i] * up);
      for (const [j, column] of nodes.entries()) {
        matrix[row * count + column] += weight * (byUp[i] * byUp[j] + bySide[i] * bySide[j]);
      }
    }
  }
  const middle = (count - 1) / 2;
  matrix.fill(0, middle * count, (middle + 1) * count);
  matrix[middle * count + middle] = 1;
  right[middle] = 0;
  const pivots = new Int32Array(count);
  if (factorise(matrix, count, pivots) === 0) throw new Error('the section has no warping');
  solveFactorised(matrix, count, pivots, right);
  return right;
}
