/**
 * Torque and bending moments of a section from its twist, its curvatures and what its fibres have been through, with the tangent that belongs to
 * them. Elastic throughout, less what has slipped before and what slips now. mm, N mm, rad/mm.
 */
import { solveFactorised } from '../math/dense';
import { FIBRES, LOST_MODES, LOST_SIDE, LOST_TORQUE, LOST_UP, MODES, strainAtMost } from './fibre-history';
import type { FibreSection } from './fibre-section';
import { MODE_COUNT, type TwistedSection } from './twisted-section';
import { elasticLimit, type FibreLaw, newHistory } from './uniaxial-law';
import { balanceWarping, change, lost, matrix, pivots, SIDE, stiffness, UP, WIDTH, WITHIN, warping } from './warping';

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
  balanceWarping(section, torsion.law, history, at, twist, curvatureUp, curvatureSide);
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

const follow = new Float64Array(3 * MODE_COUNT);
