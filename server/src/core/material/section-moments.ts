/**
 * Torque and bending moments of a section from its twist, its curvatures and what its fibres have been through, with the tangent that belongs to
 * them. Elastic throughout, less what has slipped before and what slips now. mm, N mm, rad/mm.
 */
import { factorise, solveFactorised } from '../math/dense';
import { FIBRES, LOST_MODES, LOST_SIDE, LOST_TORQUE, LOST_UP, MODES, strainAtMost } from './fibre-history';
import type { FibreSection } from './fibre-section';
import { MODE_COUNT, SHEAR, type TwistedSection } from './twisted-section';
import { elasticLimit, type FibreLaw, newHistory } from './uniaxial-law';
import { returned, returnToSurface, type ShearLaw } from './von-mises';

/** Moments and their derivatives. */
export interface SectionAnswer {
  momentUp: number;
  momentSide: number;
  /** By curvature up and side: symmetric. */
  upUp: number;
  upSide: number;
  sideSide: number;
}

/** Of a section that is bent and twisted. */
export interface TwistedAnswer extends SectionAnswer {
  torque: number;
  /** By twist, and by twist and curvature: symmetric. */
  twistTwist: number;
  twistUp: number;
  twistSide: number;
}

export function sectionAnswer(): SectionAnswer {
  return { momentUp: 0, momentSide: 0, upUp: 0, upSide: 0, sideSide: 0 };
}

export function twistedAnswer(): TwistedAnswer {
  return { ...sectionAnswer(), torque: 0, twistTwist: 0, twistUp: 0, twistSide: 0 };
}

/**
 * Beyond its limit by less, a fibre counts as elastic: where Newton's method begins, those that slipped last stand at it, and are to
 * begin alike, whichever way they will go. Of a wire that goes back a step with their slipping tangent would lead far astray.
 */
const WITHIN = 1 + 1e-9;

/** Bending about both axes. */
export function bend(
  section: FibreSection,
  history: Float64Array,
  at: number,
  curvatureUp: number,
  curvatureSide: number,
  into: SectionAnswer,
): void {
  const { law, count, up, side, area } = section;
  bendWithin(section, history, at, curvatureUp, curvatureSide, into);
  const range = WITHIN * elasticLimit(law);
  if (strainAtMost(section, history, at, 0, curvatureUp, curvatureSide) <= range) return;
  const limit = law.kind === 'elastic-plastic' ? law.limit : 0;
  const first = at + FIBRES;
  let mu = 0;
  let ms = 0;
  let uu = 0;
  let us = 0;
  let ss = 0;
  for (let k = 0; k < count; k++) {
    const y = up[k];
    const z = side[k];
    // Bending about side lengthens what lies below; about up, what lies on the side.
    const strain = curvatureUp * z - curvatureSide * y;
    const before = history[first + k];
    const elastic = strain - before;
    let slip: number;
    if (limit > 0) {
      if (elastic > range) slip = elastic - limit;
      else if (elastic < -range) slip = elastic + limit;
      else continue;
    } else {
      const now = newHistory(law, strain, before);
      slip = now - before;
      if (Math.abs(slip) <= range - elasticLimit(law)) continue;
      if (isBound(law, now)) {
        mu += area[k] * z * slip;
        ms -= area[k] * y * slip;
        continue;
      }
    }
    const a = area[k];
    mu += a * z * slip;
    ms -= a * y * slip;
    uu += a * z * z;
    us -= a * y * z;
    ss += a * y * y;
  }
  const { modulus } = law;
  into.momentUp -= modulus * mu;
  into.momentSide -= modulus * ms;
  into.upUp -= modulus * uu;
  into.upSide = -modulus * us;
  into.sideSide -= modulus * ss;
}

/** The same where no fibre slips. */
function bendWithin(
  { stiffnessUp, stiffnessSide }: FibreSection,
  history: Float64Array,
  at: number,
  curvatureUp: number,
  curvatureSide: number,
  into: SectionAnswer,
): void {
  into.momentUp = stiffnessUp * curvatureUp - history[at + LOST_UP];
  into.momentSide = stiffnessSide * curvatureSide - history[at + LOST_SIDE];
  into.upUp = stiffnessUp;
  into.sideSide = stiffnessSide;
  into.upSide = 0;
}

/** Half-open bounds of a transformation at which the fibre is elastic again. */
function isBound(law: FibreLaw, history: number): boolean {
  return law.kind === 'superelastic' && (history === 0 || Math.abs(history) === law.full);
}

/** Torsion and bending about both axes; leaves the amounts of the section's modes of warping in `warping`. */
export function bendAndTwist(
  section: TwistedSection,
  history: Float64Array,
  at: number,
  twist: number,
  curvatureUp: number,
  curvatureSide: number,
  into: TwistedAnswer,
): void {
  const { law, torsion } = section;
  into.torque = torsion.stiffness * twist - history[at + LOST_TORQUE];
  into.twistTwist = torsion.stiffness;
  into.twistUp = into.twistSide = 0;
  if (!torsion.law) {
    bend(section, history, at, curvatureUp, curvatureSide, into);
    return;
  }
  bendWithin(section, history, at, curvatureUp, curvatureSide, into);
  if (strainAtMost(section, history, at, twist, curvatureUp, curvatureSide) <= WITHIN * elasticLimit(law)) {
    for (let m = 0; m < MODE_COUNT; m++) warping[m] = history[at + LOST_MODES + m] / torsion.modeStiffness;
    return;
  }
  const { modulus } = law;
  // Per unit of Y² shear is worth as much as strain: G_slip / scale² = E_slip / b.
  const byShear = torsion.law.modulus / (torsion.law.scale * torsion.law.scale);
  const close = (CLOSE * elasticLimit(law)) / torsion.law.scale;
  for (let m = 0; m < MODE_COUNT; m++) warping[m] = history[at + MODES + m];
  let asked = 0;
  for (let k = 0; ; k++) {
    sumSlips(section, torsion.law, history, at, twist, curvatureUp, curvatureSide);
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
  into.torque -= byShear * lost[0];
  into.momentUp -= modulus * lost[UP];
  into.momentSide -= modulus * lost[SIDE];
  into.twistTwist -= byShear * stiffness[0];
  into.twistUp = -modulus * stiffness[UP];
  into.twistSide = -modulus * stiffness[SIDE];
  into.upUp -= modulus * stiffness[WIDTH * UP + UP];
  into.upSide = -modulus * stiffness[WIDTH * UP + SIDE];
  into.sideSide -= modulus * stiffness[WIDTH * SIDE + SIDE];
  // The modes follow what the section is bent and twisted by.
  for (let m = 0; m < MODE_COUNT; m++) {
    const row = WIDTH * (1 + m);
    const [byTwist, byUp, bySide] = [
      byShear * stiffness[row],
      modulus * stiffness[row + UP],
      modulus * stiffness[row + SIDE],
    ];
    into.torque -= byTwist * change[m];
    into.momentUp -= byUp * change[m];
    into.momentSide -= bySide * change[m];
    follow[m] = byTwist;
    follow[MODE_COUNT + m] = byUp;
    follow[2 * MODE_COUNT + m] = bySide;
    warping[m] += change[m];
    history[at + MODES + m] = warping[m];
  }
  for (let c = 0; c < 3; c++) {
    for (let m = 0; m < MODE_COUNT; m++) change[m] = follow[MODE_COUNT * c + m];
    solveFactorised(matrix, MODE_COUNT, pivots, change);
    for (let m = 0; m < MODE_COUNT; m++) {
      const by = change[m];
      if (c === 0) into.twistTwist -= follow[m] * by;
      if (c === 1) {
        into.twistUp -= follow[m] * by;
        into.upUp -= follow[MODE_COUNT + m] * by;
      }
      if (c === 2) {
        into.twistSide -= follow[m] * by;
        into.upSide -= follow[MODE_COUNT + m] * by;
        into.sideSide -= follow[2 * MODE_COUNT + m] * by;
      }
    }
  }
}

/** Amounts of the modes of warping at which the section last looked at is in balance along the wire. */
export const warping = new Float64Array(MODE_COUNT);

/** Of the elastic limit: what is left is of the square of it. */
const CLOSE = 1e-5;
const MOST_ITERATIONS = 60;
const change = new Float64Array(MODE_COUNT);
const step = new Float64Array(MODE_COUNT);
const matrix = new Float64Array(MODE_COUNT * MODE_COUNT);
const pivots = new Int32Array(MODE_COUNT);
const follow = new Float64Array(3 * MODE_COUNT);

/** Rows of twist and the modes, then of the curvatures. */
const UP = 1 + MODE_COUNT;
const SIDE = 2 + MODE_COUNT;
const WIDTH = 3 + MODE_COUNT;
/** What the fibres that slip bear less, and what they are less stiff by, per modulus or `byShear`. */
const lost = new Float64Array(WIDTH);
const stiffness = new Float64Array(WIDTH * WIDTH);

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
