/**
 * A cross-section of fibres along the wire that are bent and sheared by torsion. Each fibre bears a stress along the wire and,
 * as the section is twisted, a shear in the direction and of the share that Saint-Venant's elastic torsion gives its
 * place; both yield together by von Mises with linear kinematic hardening (Prager), returned to the yield surface
 * along the plastic flow with the tangent that belongs to it (Simo and Hughes, Computational Inelasticity, chapters 1 and 3, from
 * memory). Warping keeps its elastic shape: a round section, which does not warp, bears the torque of its plastic limit
 * exactly, a rectangle some per cent more than a heap of sand over it says (Nadai; Prager and Hodge, Theory of Perfectly
 * Plastic Solids; `tests/core/twisted-section.test.ts` has the figures). A section and its image under a half turn are alike, as
 * in bending. mm, MPa, N mm, rad/mm.
 *
 * With X the elastic strain along the wire, Y = √3 (G/E) times the elastic shear and H the slope of hardening over plastic strain,
 * the surface is X² + Y² = limit², and a step that ends on it from the trial strains X', Y' has
 *
 *   X = X' / (1 + λ),   Y = Y' / (1 + bλ),   b = (3G + H) / (E + H).
 */
import type { Section } from '../design';
import { bend, type FibreSection, griddedSection, type SectionAnswer } from './fibre-section';
import { sectionProperties } from './section';
import { rectangleShear } from './torsion';
import { elasticLimit, type FibreLaw, fibreStressAt, newHistory } from './uniaxial-law';

export interface TwistedSection extends FibreSection {
  /** Shear of each fibre by twist per length, mm. */
  readonly shear: Float64Array;
  readonly farShear: number;
  /** Elastic torsional stiffness, N mm²: exactly the section's. */
  readonly stiffnessTwist: number;
  /** Whether torsion yields: by alloys that are elastic and plastic. */
  readonly shearLaw: ShearLaw | undefined;
}

interface ShearLaw {
  /** Beside each other, as in a fibre's own law: the one that slips and the one that goes on, MPa of shear. */
  readonly modulus: number;
  readonly parallel: number;
  /** Y by elastic shear: √3 G/E. */
  readonly scale: number;
  /** b. */
  readonly ratio: number;
}

/** Of a section that is bent and twisted. */
export interface TwistedAnswer extends SectionAnswer {
  torque: number;
  /** By twist, and by twist and curvature: symmetric. */
  twistTwist: number;
  twistUp: number;
  twistSide: number;
}

export function twistedAnswer(): TwistedAnswer {
  return {
    momentUp: 0,
    momentSide: 0,
    upUp: 0,
    upSide: 0,
    sideSide: 0,
    torque: 0,
    twistTwist: 0,
    twistUp: 0,
    twistSide: 0,
  };
}

export function twistedSection(section: Section, law: FibreLaw, shearModulus: number, grid?: Grid): TwistedSection {
  const fibres = griddedSection(section, law, grid);
  const { count, up, side, area } = fibres;
  const { torsionConstant, height, width } = sectionProperties(section);
  const shear = new Float64Array(count);
  let sum = 0;
  for (let k = 0; k < count; k++) {
    shear[k] =
      section.kind === 'round' ? Math.hypot(up[k], side[k]) : rectangleShear(width / 2, height / 2, side[k], up[k]);
    sum += area[k] * shear[k] ** 2;
  }
  const factor = Math.sqrt(torsionConstant / sum);
  for (let k = 0; k < count; k++) shear[k] *= factor;
  return {
    ...fibres,
    shear,
    farShear: shear.reduce((most, x) => Math.max(most, x), 0),
    stiffnessTwist: shearModulus * torsionConstant,
    shearLaw: shearLawOf(law, shearModulus),
  };
}

type Grid = Parameters<typeof griddedSection>[2];

function shearLawOf(law: FibreLaw, shearModulus: number): ShearLaw | undefined {
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

/** Numbers of history per section: slipped strain of each fibre, then slipped shear. */
export function historySize(section: FibreSection | TwistedSection): number {
  return isTwisted(section) && section.shearLaw ? 2 * section.count : section.count;
}

export function isTwisted(section: FibreSection | TwistedSection): section is TwistedSection {
  return 'shear' in section;
}

/** Torsion and bending about both axes, from the fibres' history at `at` (`historySize` numbers). */
export function bendAndTwist(
  section: TwistedSection,
  history: Float64Array,
  at: number,
  twist: number,
  curvatureUp: number,
  curvatureSide: number,
  into: TwistedAnswer,
): void {
  const { law, shearLaw, count, up, side, area, shear, stiffnessSide, stiffnessUp, stiffnessTwist } = section;
  into.twistUp = into.twistSide = 0;
  if (!shearLaw) {
    bend(section, history, at, curvatureUp, curvatureSide, into);
    into.torque = stiffnessTwist * twist;
    into.twistTwist = stiffnessTwist;
    return;
  }
  const { scale } = shearLaw;
  const limit = elasticLimit(law);
  const enough = limit * limit;
  const slipped = at + count;
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
    const a = area[k];
    const g = scale * shear[k];
    const x = curvatureUp * z - curvatureSide * y - history[at + k];
    const w = twist * g - scale * history[slipped + k];
    if (x * x + w * w <= enough) {
      mt += a * g * w;
      mu += a * z * x;
      ms -= a * y * x;
      tt += a * g * g;
      uu += a * z * z;
      us -= a * y * z;
      ss += a * y * y;
    } else {
      returnToSurface(x, w, limit, shearLaw.ratio);
      mt += a * g * back.w;
      mu += a * z * back.x;
      ms -= a * y * back.x;
      const b = shearLaw.ratio;
      const p = 1 / (1 + back.flow);
      const q = 1 / (1 + b * back.flow);
      const size = back.x * back.x * p + b * back.w * back.w * q;
      const xx = p - (p * p * back.x * back.x) / size;
      const xw = (-p * q * back.x * back.w) / size;
      const ww = q - (b * q * q * back.w * back.w) / size;
      tt += a * g * g * ww;
      tu += a * g * z * xw;
      ts -= a * g * y * xw;
      uu += a * z * z * xx;
      us -= a * y * z * xx;
      ss += a * y * y * xx;
    }
  }
  // Per unit of Y² shear is worth as much as strain: G_slip / scale² = E_slip / b.
  const { modulus } = law;
  const byTwist = shearLaw.modulus / (scale * scale);
  const share = law.parallel / (modulus + law.parallel);
  const shareTwist = (shearLaw.parallel / (shearLaw.modulus + shearLaw.parallel)) * stiffnessTwist;
  into.torque = byTwist * mt + shareTwist * twist;
  into.momentUp = modulus * mu + share * stiffnessUp * curvatureUp;
  into.momentSide = modulus * ms + share * stiffnessSide * curvatureSide;
  into.twistTwist = byTwist * tt + shareTwist;
  into.twistUp = modulus * tu;
  into.twistSide = modulus * ts;
  into.upUp = modulus * uu + share * stiffnessUp;
  into.upSide = modulus * us;
  into.sideSide = modulus * ss + share * stiffnessSide;
}

/** Where a trial state beyond the surface ends on it, and the λ of its way. */
const back = { x: 0, w: 0, flow: 0 };

function returnToSurface(x: number, w: number, limit: number, b: number): void {
  const xx = x * x;
  const ww = w * w;
  const enough = limit * limit;
  // The surface's distance falls and flattens with λ, so that Newton comes up to it from below without passing it.
  let flow = (Math.sqrt(xx + ww) / limit - 1) / Math.max(1, b);
  for (let k = 0; k < MOST_ITERATIONS; k++) {
    const p = 1 / (1 + flow);
    const q = 1 / (1 + b * flow);
    const beyond = xx * p * p + ww * q * q - enough;
    if (beyond <= CLOSE * enough) break;
    flow += beyond / (2 * (xx * p * p * p + b * ww * q * q * q));
  }
  back.flow = flow;
  back.x = x / (1 + flow);
  back.w = w / (1 + b * flow);
}

const MOST_ITERATIONS = 20;
const CLOSE = 1e-12;

/** No fibre without history leaves its first elastic range at these strains. */
export function staysElasticTwisted(section: TwistedSection, twist: number, up: number, side: number): boolean {
  return mostTwistedStrain(section, twist, up, side) <= elasticLimit(section.law);
}

/** √(X² + Y²) that no fibre exceeds; without yielding in torsion X alone. */
export function mostTwistedStrain(section: TwistedSection, twist: number, up: number, side: number): number {
  const { farUp, farSide, farShear, shearLaw } = section;
  const along = Math.abs(up) * farSide + Math.abs(side) * farUp;
  if (!shearLaw) return along;
  const across = shearLaw.scale * farShear * twist;
  return Math.sqrt(along * along + across * across);
}

/** Makes the state at these strains the fibres' history; the largest change of it, strain. */
export function commitTwisted(
  section: TwistedSection,
  history: Float64Array,
  at: number,
  twist: number,
  curvatureUp: number,
  curvatureSide: number,
): number {
  const { law, shearLaw, count, up, side, shear } = section;
  const limit = elasticLimit(law);
  let largest = 0;
  for (let k = 0; k < count; k++) {
    const strain = curvatureUp * side[k] - curvatureSide * up[k];
    const before = history[at + k];
    if (!shearLaw) {
      history[at + k] = newHistory(law, strain, before);
    } else {
      const x = strain - before;
      const w = shearLaw.scale * (twist * shear[k] - history[at + count + k]);
      if (x * x + w * w <= limit * limit) continue;
      returnToSurface(x, w, limit, shearLaw.ratio);
      history[at + k] = strain - back.x;
      const slip = (w - back.w) / shearLaw.scale;
      history[at + count + k] += slip;
      largest = Math.max(largest, Math.abs(slip));
    }
    largest = Math.max(largest, Math.abs(history[at + k] - before));
  }
  return largest;
}

/** Largest √(X² + Y²) of a fibre over the limit at which its history goes on: above 1, it does. */
export function twistedReachOfLimit(
  { law, shearLaw, count, up, side, shear }: TwistedSection,
  history: Float64Array,
  at: number,
  twist: number,
  curvatureUp: number,
  curvatureSide: number,
): number {
  let largest = 0;
  for (let k = 0; k < count; k++) {
    const x = curvatureUp * side[k] - curvatureSide * up[k] - history[at + k];
    const w = shearLaw ? shearLaw.scale * (twist * shear[k] - history[at + count + k]) : 0;
    largest = Math.max(largest, x * x + w * w);
  }
  return Math.sqrt(largest) / elasticLimit(law);
}

/** Largest stress of a fibre by von Mises, MPa; of one along the wire alone where torsion does not yield. */
export function largestTwistedStress(
  { law, shearLaw, count, up, side, shear }: TwistedSection,
  history: Float64Array,
  at: number,
  twist: number,
  curvatureUp: number,
  curvatureSide: number,
): number {
  let largest = 0;
  for (let k = 0; k < count; k++) {
    const strain = curvatureUp * side[k] - curvatureSide * up[k];
    if (!shearLaw) {
      largest = Math.max(largest, Math.abs(fibreStressAt(law, strain, history[at + k])));
      continue;
    }
    let x = strain - history[at + k];
    let w = shearLaw.scale * (twist * shear[k] - history[at + count + k]);
    const limit = elasticLimit(law);
    if (x * x + w * w > limit * limit) {
      returnToSurface(x, w, limit, shearLaw.ratio);
      x = back.x;
      w = back.w;
    }
    const along = law.modulus * x + law.parallel * strain;
    const across = (shearLaw.modulus * w) / shearLaw.scale + shearLaw.parallel * twist * shear[k];
    largest = Math.max(largest, Math.sqrt(along * along + 3 * across * across));
  }
  return largest;
}
