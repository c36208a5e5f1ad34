/**
 * Torque and bending moments of a section from its twist, its curvatures and what its fibres have been through, with the tangent that belongs to
 * them. Elastic throughout, less what has slipped before and what slips now. mm, N mm, rad/mm.
 */
import { FIBRES, LOST_SIDE, LOST_TORQUE, LOST_UP, strainAtMost } from './fibre-history';
import type { FibreSection } from './fibre-section';
import type { TwistedSection } from './twisted-section';
import { elasticLimit, type FibreLaw, newHistory } from './uniaxial-law';
import { returned, returnToSurface } from './von-mises';

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

/** Torsion and bending about both axes. */
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
  const shearLaw = torsion.law;
  if (!shearLaw) {
    bend(section, history, at, curvatureUp, curvatureSide, into);
    return;
  }
  bendWithin(section, history, at, curvatureUp, curvatureSide, into);
  const limit = elasticLimit(law);
  const range = WITHIN * limit;
  if (strainAtMost(section, history, at, twist, curvatureUp, curvatureSide) <= range) return;
  const { count, up, side, area } = section;
  const { shear } = torsion;
  const { scale, ratio: b } = shearLaw;
  const enough = range * range;
  const first = at + FIBRES;
  let mt = 0;
  let mu = 0;
  let ms = 0;
  let tt = 0;
  let tu = 0;
  let ts = 0;
  let uu = 0;
  let us = 0;
  let ss = 0;
  for (let k = 0; k < count; k++) {
    const y = up[k];
    const z = side[k];
    const x = curvatureUp * z - curvatureSide * y - history[first + k];
    const w = scale * (twist * shear[k] - history[first + count + k]);
    if (x * x + w * w <= enough) continue;
    returnToSurface(x, w, limit, b);
    const a = area[k];
    const g = scale * shear[k];
    const slip = x - returned.x;
    mt += a * g * (w - returned.w);
    mu += a * z * slip;
    ms -= a * y * slip;
    const p = 1 / (1 + returned.flow);
    const q = 1 / (1 + b * returned.flow);
    const bySize = 1 / (returned.x * returned.x * p + b * returned.w * returned.w * q);
    // What the tangent of the stress loses.
    const xx = 1 - p + p * p * returned.x * returned.x * bySize;
    const xw = p * q * returned.x * returned.w * bySize;
    const ww = 1 - q + b * q * q * returned.w * returned.w * bySize;
    tt += a * g * g * ww;
    tu += a * g * z * xw;
    ts -= a * g * y * xw;
    uu += a * z * z * xx;
    us -= a * y * z * xx;
    ss += a * y * y * xx;
  }
  // Per unit of Y² shear is worth as much as strain: G_slip / scale² = E_slip / b.
  const { modulus } = law;
  const byTwist = shearLaw.modulus / (scale * scale);
  into.torque -= byTwist * mt;
  into.momentUp -= modulus * mu;
  into.momentSide -= modulus * ms;
  into.twistTwist -= byTwist * tt;
  into.twistUp = -modulus * tu;
  into.twistSide = -modulus * ts;
  into.upUp -= modulus * uu;
  into.upSide = -modulus * us;
  into.sideSide -= modulus * ss;
}
