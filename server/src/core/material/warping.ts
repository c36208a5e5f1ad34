/**
 * How a section warps where fibres slip: by so much of each mode (twisted-section.ts) that it is in balance along the wire, which is
 * where its work is least. By Newton's method, whose sums tell what the section bears and how stiff it is, too.
 */
import { factorise, solveFactorised } from '../math/dense';
import { FIBRES, LOST_MODES, MODES } from './fibre-history';
import { MODE_COUNT, SHEAR, type TwistedSection } from './twisted-section';
import { elasticLimit } from './uniaxial-law';
import { returned, returnToSurface, type ShearLaw } from './von-mises';

/**
 * Beyond its limit by less, a fibre counts as elastic: where Newton's method begins, those that slipped last stand at it, and are to
 * begin alike, whichever way they will go. Of a wire that goes back a step with their slipping tangent would lead far astray.
 */
export const WITHIN = 1 + 1e-9;

/** Amounts of the modes of warping at which the section last looked at is in balance along the wire. */
export const warping = new Float64Array(MODE_COUNT);

/** Of the elastic limit: what is left is of the square of it. */
const CLOSE = 1e-5;
const MOST_ITERATIONS = 60;
/** Of the modes, what leads to balance to first order, small when `balanceWarping` is through; and the factors of what they are stiff by. */
export const change = new Float64Array(MODE_COUNT);
export const matrix = new Float64Array(MODE_COUNT * MODE_COUNT);
export const pivots = new Int32Array(MODE_COUNT);

/** Rows of twist and the modes, then of the curvatures. */
export const UP = 1 + MODE_COUNT;
export const SIDE = 2 + MODE_COUNT;
export const WIDTH = 3 + MODE_COUNT;
/** What the fibres that slip bear less, and what they are less stiff by, per modulus or `byShear`. */
export const lost = new Float64Array(WIDTH);
export const stiffness = new Float64Array(WIDTH * WIDTH);

const step = new Float64Array(MODE_COUNT);

/** Finds `warping`, with `change`, `lost`, `stiffness` and the factors there; the search goes on from where the history has it. */
export function balanceWarping(
  section: TwistedSection,
  shearLaw: ShearLaw,
  history: Float64Array,
  at: number,
  twist: number,
  curvatureUp: number,
  curvatureSide: number,
): void {
  const { torsion, law } = section;
  const byShear = shearLaw.modulus / (shearLaw.scale * shearLaw.scale);
  const close = (CLOSE * elasticLimit(law)) / shearLaw.scale;
  for (let m = 0; m < MODE_COUNT; m++) warping[m] = history[at + MODES + m];
  let asked = 0;
  for (let k = 0; ; k++) {
    sumSlips(section, shearLaw, history, at, twist, curvatureUp, curvatureSide);
    let along = 0;
    for (let m = 0; m < MODE_COUNT; m++) {
      // What is out of balance along the wire.
      change[m] = history[at + LOST_MODES + m] + byShear * lost[1 + m] - torsion.modeStiffness * warping[m];
      along += change[m] * step[m];
    }
    // The least of a convex function is sought: a step that went far past its least along itself is halved.
    if (k > 0 && along < -0.5 * asked && k < MOST_ITERATIONS) {
      for (let m = 0; m < MODE_COUNT; m++) {
        step[m] /= 2;
        warping[m] -= step[m];
      }
      asked /= 2;
      continue;
    }
    for (let m = 0; m < MODE_COUNT; m++) {
      for (let n = 0; n < MODE_COUNT; n++) {
        matrix[MODE_COUNT * m + n] =
          (m === n ? torsion.modeStiffness : 0) - byShear * stiffness[WIDTH * (1 + m) + 1 + n];
      }
    }
    step.set(change);
    factorise(matrix, MODE_COUNT, pivots);
    solveFactorised(matrix, MODE_COUNT, pivots, change);
    asked = 0;
    let largest = 0;
    for (let m = 0; m < MODE_COUNT; m++) {
      asked += step[m] * change[m];
      largest = Math.max(largest, Math.abs(change[m]));
    }
    if (largest <= close || k >= MOST_ITERATIONS) break;
    step.set(change);
    for (let m = 0; m < MODE_COUNT; m++) warping[m] += change[m];
  }
}

function sumSlips(
  { law, torsion, count, up, side, area }: TwistedSection,
  { scale, ratio: b }: ShearLaw,
  history: Float64Array,
  at: number,
  twist: number,
  curvatureUp: number,
  curvatureSide: number,
): void {
  const { shear } = torsion;
  const limit = elasticLimit(law);
  const enough = (WITHIN * limit) ** 2;
  const scales = scale * scale;
  const first = at + FIBRES;
  const a1 = warping[0];
  const a2 = warping[1];
  const a3 = warping[2];
  let l0 = 0;
  let l1 = 0;
  let l2 = 0;
  let l3 = 0;
  let lu = 0;
  let ls = 0;
  let s00 = 0;
  let s10 = 0;
  let s11 = 0;
  let s20 = 0;
  let s21 = 0;
  let s22 = 0;
  let s30 = 0;
  let s31 = 0;
  let s32 = 0;
  let s33 = 0;
  let u0 = 0;
  let u1 = 0;
  let u2 = 0;
  let u3 = 0;
  let v0 = 0;
  let v1 = 0;
  let v2 = 0;
  let v3 = 0;
  let uu = 0;
  let uv = 0;
  let vv = 0;
  for (let k = 0; k < count; k++) {
    const y = up[k];
    const z = side[k];
    const x = curvatureUp * z - curvatureSide * y - history[first + k];
    const own = SHEAR * k;
    const f0 = shear[own];
    const g0 = shear[own + 1];
    const f1 = shear[own + 2];
    const g1 = shear[own + 3];
    const f2 = shear[own + 4];
    const g2 = shear[own + 5];
    const f3 = shear[own + 6];
    const g3 = shear[own + 7];
    const f = twist * f0 + a1 * f1 + a2 * f2 + a3 * f3 - history[first + count + k];
    const g = twist * g0 + a1 * g1 + a2 * g2 + a3 * g3 - history[first + 2 * count + k];
    const ww = scales * (f * f + g * g);
    if (x * x + ww <= enough) continue;
    returnToSurface(x, ww, limit, b);
    const a = area[k];
    const p = returned.along;
    const q = returned.across;
    const X = p * x;
    const bySize = 1 / (X * X * p + b * q * q * q * ww);
    // What the tangent of the stress loses along the wire, between that and shear, in shear, and in shear along itself.
    const xx = a * (1 - p + p * p * X * X * bySize);
    const xw = a * scales * p * q * q * X * bySize;
    const w1 = a * scales * (1 - q);
    const w2 = a * scales * scales * b * q * q * q * q * bySize;
    const c0 = f0 * f + g0 * g;
    const c1 = f1 * f + g1 * g;
    const c2 = f2 * f + g2 * g;
    const c3 = f3 * f + g3 * g;
    const slip = a * (x - X);
    lu += z * slip;
    ls -= y * slip;
    uu += z * z * xx;
    uv -= y * z * xx;
    vv += y * y * xx;
    // Shear keeps its direction.
    l0 += w1 * c0;
    l1 += w1 * c1;
    l2 += w1 * c2;
    l3 += w1 * c3;
    const zx = z * xw;
    u0 += zx * c0;
    u1 += zx * c1;
    u2 += zx * c2;
    u3 += zx * c3;
    const yx = y * xw;
    v0 -= yx * c0;
    v1 -= yx * c1;
    v2 -= yx * c2;
    v3 -= yx * c3;
    s00 += w1 * (f0 * f0 + g0 * g0) + w2 * c0 * c0;
    s10 += w1 * (f1 * f0 + g1 * g0) + w2 * c1 * c0;
    s11 += w1 * (f1 * f1 + g1 * g1) + w2 * c1 * c1;
    s20 += w1 * (f2 * f0 + g2 * g0) + w2 * c2 * c0;
    s21 += w1 * (f2 * f1 + g2 * g1) + w2 * c2 * c1;
    s22 += w1 * (f2 * f2 + g2 * g2) + w2 * c2 * c2;
    s30 += w1 * (f3 * f0 + g3 * g0) + w2 * c3 * c0;
    s31 += w1 * (f3 * f1 + g3 * g1) + w2 * c3 * c1;
    s32 += w1 * (f3 * f2 + g3 * g2) + w2 * c3 * c2;
    s33 += w1 * (f3 * f3 + g3 * g3) + w2 * c3 * c3;
  }
  lost[0] = l0;
  lost[1] = l1;
  lost[2] = l2;
  lost[3] = l3;
  lost[UP] = lu;
  lost[SIDE] = ls;
  row(0, s00, s10, s20, s30, u0, v0);
  row(1, s10, s11, s21, s31, u1, v1);
  row(2, s20, s21, s22, s32, u2, v2);
  row(3, s30, s31, s32, s33, u3, v3);
  stiffness[WIDTH * UP + UP] = uu;
  stiffness[WIDTH * UP + SIDE] = uv;
  stiffness[WIDTH * SIDE + SIDE] = vv;
}

function row(i: number, by0: number, by1: number, by2: number, by3: number, byUp: number, bySide: number): void {
  const at = WIDTH * i;
  stiffness[at] = by0;
  stiffness[at + 1] = by1;
  stiffness[at + 2] = by2;
  stiffness[at + 3] = by3;
  stiffness[at + UP] = byUp;
  stiffness[at + SIDE] = bySide;
}
