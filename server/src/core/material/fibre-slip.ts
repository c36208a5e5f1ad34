/** What the fibres of a section do at its strains: how they slip, and what they bear. MPa, N mm, rad/mm, strains as plain numbers. */
import { FIBRES, LOST_MODES, LOST_SIDE, LOST_TORQUE, LOST_UP, MODES, SIDE, TWIST, UP, USED } from './fibre-history';
import type { FibreSection } from './fibre-section';
import { bendAndTwist, twistedAnswer } from './section-moments';
import { isTwisted, MODE_COUNT, SHEAR } from './twisted-section';
import { elasticLimit, newHistory, usedRange } from './uniaxial-law';
import { returned, returnToSurface } from './von-mises';
import { warping } from './warping';

/** What `commit` last did. */
export const committed = {
  /** Largest slip of a fibre, strain. */
  flow: 0,
  /** Largest elastic strain of a fibre, had none slipped, over the one at which it does; above 1, it did. */
  reach: 0,
};

/** Makes the state at these strains the history. */
export function commit(
  section: FibreSection,
  history: Float64Array,
  at: number,
  twist: number,
  up: number,
  side: number,
): void {
  const { law, torsion, count, area, up: height, side: width } = section;
  const shear = torsion?.law;
  const first = at + FIBRES;
  let flow = 0;
  let reach = 0;
  let used = 0;
  let lostTorque = 0;
  let lostUp = 0;
  let lostSide = 0;
  lostModes.fill(0);
  warp(section, history, at, twist, up, side);
  // Most fibres slip nowhere; those that transform are all looked at.
  const enough = law.kind === 'elastic-plastic' ? law.limit * law.limit : -1;
  let within = 0;
  for (let k = 0; k < count; k++) {
    const square = trialSquare(section, history, at, k, twist, up, side);
    if (square <= enough) {
      within = Math.max(within, square);
    } else {
      settle(section, history, at, k, twist, up, side);
      flow = Math.max(flow, Math.abs(settled.slip), Math.hypot(settled.slipUp, settled.slipSide));
      reach = Math.max(reach, settled.trial);
      used = Math.max(used, settled.used);
      history[first + k] += settled.slip;
      if (shear) {
        history[first + count + k] += settled.slipUp;
        history[first + 2 * count + k] += settled.slipSide;
      }
    }
    const slipped = area[k] * history[first + k];
    lostUp += width[k] * slipped;
    lostSide -= height[k] * slipped;
    if (!shear) continue;
    const slippedUp = area[k] * history[first + count + k];
    const slippedSide = area[k] * history[first + 2 * count + k];
    const own = SHEAR * k;
    lostTorque += slippedUp * torsion.shear[own] + slippedSide * torsion.shear[own + 1];
    for (let i = 1; i <= MODE_COUNT; i++) {
      lostModes[i - 1] += slippedUp * torsion.shear[own + 2 * i] + slippedSide * torsion.shear[own + 2 * i + 1];
    }
  }
  committed.flow = flow;
  committed.reach = Math.max(reach, Math.sqrt(within)) / elasticLimit(law);
  history[at + USED] = Math.max(used, Math.sqrt(within));
  history[at + TWIST] = twist;
  history[at + UP] = up;
  history[at + SIDE] = side;
  history[at + LOST_TORQUE] = shear ? shear.modulus * lostTorque : 0;
  history[at + LOST_UP] = law.modulus * lostUp;
  history[at + LOST_SIDE] = law.modulus * lostSide;
  if (!shear) return;
  for (let m = 0; m < MODE_COUNT; m++) {
    history[at + LOST_MODES + m] = shear.modulus * lostModes[m];
    history[at + MODES + m] = warping[m];
  }
}

const lostModes = new Float64Array(MODE_COUNT);
const answer = twistedAnswer();

/** Finds how the section warps at its strains. */
function warp(section: FibreSection, history: Float64Array, at: number, twist: number, up: number, side: number): void {
  if (isTwisted(section) && section.torsion.law) bendAndTwist(section, history, at, twist, up, side, answer);
}

/** Largest elastic strain of a fibre, if none slips, over the one at which it does: above 1, it will. */
export function reachOfLimit(
  section: FibreSection,
  history: Float64Array,
  at: number,
  twist: number,
  up: number,
  side: number,
): number {
  let reach = 0;
  warp(section, history, at, twist, up, side);
  for (let k = 0; k < section.count; k++) {
    settle(section, history, at, k, twist, up, side);
    reach = Math.max(reach, settled.trial);
  }
  return reach / elasticLimit(section.law);
}

/** Largest stress of a fibre, MPa; by von Mises where torsion yields. */
export function largestStress(
  section: FibreSection,
  history: Float64Array,
  at: number,
  twist: number,
  up: number,
  side: number,
): number {
  const { law, torsion, count, up: height, side: width } = section;
  const shear = torsion?.law;
  let largest = 0;
  warp(section, history, at, twist, up, side);
  for (let k = 0; k < count; k++) {
    settle(section, history, at, k, twist, up, side);
    const along = law.modulus * settled.x + law.parallel * (up * width[k] - side * height[k]);
    let square = along * along;
    if (shear) {
      // What has slipped, elastic strain added, is all of the shear.
      const shearUp = settled.w1 + history[at + FIBRES + count + k] + settled.slipUp;
      const shearSide = settled.w2 + history[at + FIBRES + 2 * count + k] + settled.slipSide;
      square +=
        3 *
        ((shear.modulus * settled.w1 + shear.parallel * shearUp) ** 2 +
          (shear.modulus * settled.w2 + shear.parallel * shearSide) ** 2);
    }
    largest = Math.max(largest, Math.sqrt(square));
  }
  return largest;
}

/** X² + Y² of a fibre at its section's strains and warping, had it not slipped. */
function trialSquare(
  { torsion, count, up: height, side: width }: FibreSection,
  history: Float64Array,
  at: number,
  k: number,
  twist: number,
  up: number,
  side: number,
): number {
  const first = at + FIBRES;
  const x = up * width[k] - side * height[k] - history[first + k];
  if (!torsion?.law) return x * x;
  const { shear, law } = torsion;
  const own = SHEAR * k;
  let w1 = twist * shear[own] - history[first + count + k];
  let w2 = twist * shear[own + 1] - history[first + 2 * count + k];
  for (let i = 1; i <= MODE_COUNT; i++) {
    w1 += warping[i - 1] * shear[own + 2 * i];
    w2 += warping[i - 1] * shear[own + 2 * i + 1];
  }
  return x * x + law.scale * law.scale * (w1 * w1 + w2 * w2);
}

/**
 * Of one fibre at a section's strains and warping: what it slips along the wire and in shear, what of both is elastic then, and what of its
 * range it uses then and would, had it not slipped.
 */
const settled = { slip: 0, slipUp: 0, slipSide: 0, x: 0, w1: 0, w2: 0, used: 0, trial: 0 };

function settle(
  { law, torsion, count, up: height, side: width }: FibreSection,
  history: Float64Array,
  at: number,
  k: number,
  twist: number,
  up: number,
  side: number,
): void {
  const first = at + FIBRES;
  const before = history[first + k];
  const strain = up * width[k] - side * height[k];
  const x = strain - before;
  settled.slip = settled.slipUp = settled.slipSide = settled.w1 = settled.w2 = 0;
  if (law.kind === 'superelastic') {
    const now = newHistory(law, strain, before);
    settled.slip = now - before;
    settled.x = strain - now;
    settled.used = usedRange(law, strain, now);
    settled.trial = usedRange(law, strain, before);
    return;
  }
  const { limit } = law;
  const shear = torsion?.law;
  let ww = 0;
  if (shear) {
    const own = SHEAR * k;
    let w1 = twist * torsion.shear[own];
    let w2 = twist * torsion.shear[own + 1];
    for (let i = 1; i <= MODE_COUNT; i++) {
      w1 += warping[i - 1] * torsion.shear[own + 2 * i];
      w2 += warping[i - 1] * torsion.shear[own + 2 * i + 1];
    }
    settled.w1 = w1 - history[first + count + k];
    settled.w2 = w2 - history[first + 2 * count + k];
    ww = shear.scale * shear.scale * (settled.w1 * settled.w1 + settled.w2 * settled.w2);
  }
  const trial = Math.sqrt(x * x + ww);
  settled.trial = trial;
  settled.used = Math.min(trial, limit);
  settled.x = x;
  if (trial <= limit) return;
  returnToSurface(x, ww, limit, shear ? shear.ratio : 1);
  const { along, across } = returned;
  settled.slip = (1 - along) * x;
  settled.x = along * x;
  settled.slipUp = (1 - across) * settled.w1;
  settled.slipSide = (1 - across) * settled.w2;
  settled.w1 *= across;
  settled.w2 *= across;
}
