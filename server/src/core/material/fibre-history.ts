/**
 * What the fibres of a section have been through: how far each has slipped along the wire and, where torsion yields, in shear. What the section
 * has as a whole goes before: a state at which it was looked at, how near its fibres then were to slipping, and the moments that their
 * slips take away. With these most sections are known to slip nowhere, and what they bear, without a look at their fibres.
 * Histories of many sections stand in one array, each from its own `at` on. mm, MPa, N mm, rad/mm, strains as plain numbers.
 */
import type { FibreSection } from './fibre-section';
import { elasticLimit, newHistory, usedRange } from './uniaxial-law';
import { returned, returnToSurface } from './von-mises';

/** Where the parts of a section's history stand from its start. */
/** Of the elastic range, strain (`usedRange`), and the twist and curvatures at which it was. */
const USED = 0;
const TWIST = 1;
const UP = 2;
const SIDE = 3;
/** Torque and moments about up and side that are lost by what has slipped, N mm. */
export const LOST_TORQUE = 4;
export const LOST_UP = 5;
export const LOST_SIDE = 6;
/** Slipped strain of each fibre, then slipped shear of each. */
export const FIBRES = 7;

/** Numbers of a section's history, all of them 0 as long as it has been through nothing. */
export function historySize({ count, torsion }: FibreSection): number {
  return FIBRES + (torsion?.law ? 2 : 1) * count;
}

/** A bound of the elastic strain of every fibre at these strains, comparable by von Mises; beyond `elasticLimit`, one may slip. */
export function strainAtMost(
  section: FibreSection,
  history: Float64Array,
  at: number,
  twist: number,
  up: number,
  side: number,
): number {
  return (
    history[at + USED] +
    mostStrain(section, twist - history[at + TWIST], up - history[at + UP], side - history[at + SIDE])
  );
}

/** Strain that no fibre exceeds at a twist and curvatures, comparable by von Mises. */
export function mostStrain({ farUp, farSide, torsion }: FibreSection, twist: number, up: number, side: number): number {
  const along = Math.abs(up) * farSide + Math.abs(side) * farUp;
  if (!torsion?.law) return along;
  const across = torsion.law.scale * torsion.farShear * twist;
  return Math.sqrt(along * along + across * across);
}

/** A bound of the stress of every fibre, MPa; by von Mises where torsion yields. */
export function stressAtMost(
  section: FibreSection,
  history: Float64Array,
  at: number,
  twist: number,
  up: number,
  side: number,
): number {
  const { modulus, parallel } = section.law;
  const elastic = strainAtMost(section, history, at, twist, up, side);
  return (modulus + parallel) * elastic + parallel * mostStrain(section, twist, up, side);
}

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
  // Most fibres slip nowhere; those that transform are all looked at.
  const enough = law.kind === 'elastic-plastic' ? law.limit * law.limit : -1;
  let within = 0;
  let flow = 0;
  let reach = 0;
  let used = 0;
  let lostTorque = 0;
  let lostUp = 0;
  let lostSide = 0;
  for (let k = 0; k < count; k++) {
    const x = up * width[k] - side * height[k] - history[first + k];
    const w = shear ? shear.scale * (twist * torsion.shear[k] - history[first + count + k]) : 0;
    const square = x * x + w * w;
    if (square <= enough) {
      within = Math.max(within, square);
    } else {
      settle(section, history, at, k, twist, up, side);
      flow = Math.max(flow, Math.abs(settled.slip), Math.abs(settled.shearSlip));
      reach = Math.max(reach, settled.trial);
      used = Math.max(used, settled.used);
      history[first + k] += settled.slip;
      if (shear) history[first + count + k] += settled.shearSlip;
    }
    const slipped = area[k] * history[first + k];
    lostUp += width[k] * slipped;
    lostSide -= height[k] * slipped;
    if (shear) lostTorque += area[k] * torsion.shear[k] * history[first + count + k];
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
  for (let k = 0; k < section.count; k++) {
    settle(section, history, at, k, twist, up, side);
    reach = Math.max(reach, settled.trial);
  }
  return reach / elasticLimit(section.law);
}

export function hasSlipped(section: FibreSection, history: Float64Array, at: number): boolean {
  for (let k = FIBRES; k < historySize(section); k++) if (history[at + k] !== 0) return true;
  return false;
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
  for (let k = 0; k < count; k++) {
    settle(section, history, at, k, twist, up, side);
    const along = law.modulus * settled.x + law.parallel * (up * width[k] - side * height[k]);
    const across = shear ? (shear.modulus * settled.w) / shear.scale + shear.parallel * twist * torsion.shear[k] : 0;
    largest = Math.max(largest, Math.sqrt(along * along + 3 * across * across));
  }
  return largest;
}

/** Of one fibre at a section's strains: what it slips, what is elastic then, and of its range what it uses then and would, had it not slipped. */
const settled = { slip: 0, shearSlip: 0, x: 0, w: 0, used: 0, trial: 0 };

function settle(
  { law, torsion, count, up: height, side: width }: FibreSection,
  history: Float64Array,
  at: number,
  k: number,
  twist: number,
  up: number,
  side: number,
): void {
  const before = history[at + FIBRES + k];
  const strain = up * width[k] - side * height[k];
  const x = strain - before;
  const shear = torsion?.law;
  const w = shear ? shear.scale * (twist * torsion.shear[k] - history[at + FIBRES + count + k]) : 0;
  settled.shearSlip = 0;
  settled.w = w;
  if (law.kind === 'superelastic') {
    const now = newHistory(law, strain, before);
    settled.slip = now - before;
    settled.x = strain - now;
    settled.used = usedRange(law, strain, now);
    settled.trial = usedRange(law, strain, before);
    return;
  }
  const { limit } = law;
  const trial = Math.sqrt(x * x + w * w);
  settled.trial = trial;
  settled.used = trial;
  settled.slip = 0;
  settled.x = x;
  if (trial <= limit) return;
  settled.used = limit;
  returnToSurface(x, w, limit, shear ? shear.ratio : 1);
  settled.slip = x - returned.x;
  settled.x = returned.x;
  settled.w = returned.w;
  if (shear) settled.shearSlip = (w - returned.w) / shear.scale;
}
