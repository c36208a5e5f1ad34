/**
 * A cross-section of fibres along the wire that are bent and sheared by torsion. Each fibre bears a stress along the wire and a shear across it;
 * both yield together (von-mises.ts). In the elastic range the section warps as in Saint-Venant's torsion. Past yield its warping
 * changes by some modes ψ, each by as much as leaves the section in balance along the wire, ∫ τ·∇ψ dA = 0: with the three that
 * are used here a rectangle that is bent and twisted bears within 1 % of what it bears with the warping of least work
 * (`tests/core/section-warping.test.ts`). A section and its image under a half turn are alike, as in bending. mm, MPa, N mm, rad/mm.
 */
import type { Section } from '../design';
import { type FibreSection, griddedSection } from './fibre-section';
import { sectionProperties } from './section';
import { rectangleShear } from './torsion';
import type { FibreLaw } from './uniaxial-law';
import { type ShearLaw, shearLaw } from './von-mises';

/** Modes of warping, and numbers per fibre in `shear`. */
export const MODE_COUNT = 3;
export const SHEAR = 2 * (1 + MODE_COUNT);

export interface Torsion {
  /**
   * Shear of each fibre along up and along side by twist per length, mm, then by the amount of each mode of warping, of 1 in the mean of
   * squares: `SHEAR` numbers per fibre, of a round section, which does not warp, 0 for the modes. All are orthogonal to each other over the section's area, so that without yielding no mode takes part.
   */
  readonly shear: Float64Array;
  /** By twist per length, the largest, mm. */
  readonly farShear: number;
  /** Elastic torsional stiffness, N mm²: exactly the section's. */
  readonly stiffness: number;
  /** Elastic stiffness against each mode, N. */
  readonly modeStiffness: number;
  /** Whether torsion yields: of alloys that are elastic and plastic. */
  readonly law: ShearLaw | undefined;
}

export interface TwistedSection extends FibreSection {
  readonly torsion: Torsion;
}

export function twistedSection(section: Section, law: FibreLaw, shearModulus: number, grid?: Grid): TwistedSection {
  const fibres = griddedSection(section, law, grid);
  const { count, up, side, area, size } = fibres;
  const { torsionConstant, height, width } = sectionProperties(section);
  const byTwist = field(count, (k) => {
    if (section.kind === 'round') return [side[k], -up[k]];
    const [alongSide, alongUp] = rectangleShear(width / 2, height / 2, side[k], up[k]);
    return [alongUp, alongSide];
  });
  stretch(byTwist, Math.sqrt(torsionConstant / product(area, byTwist, byTwist)));
  const fields = [byTwist];
  for (const [i, j] of MODES) {
    if (section.kind === 'round') break;
    // ∇ of (2 up / height)^i (2 side / width)^j.
    const mode = field(count, (k) => {
      const [y, z] = [(2 * up[k]) / height, (2 * side[k]) / width];
      return [((2 * i) / height) * y ** (i - 1) * z ** j, ((2 * j) / width) * y ** i * z ** (j - 1)];
    });
    for (const other of fields) {
      const share = product(area, mode, other) / product(area, other, other);
      for (let n = 0; n < mode.length; n++) mode[n] -= share * other[n];
    }
    stretch(mode, Math.sqrt(size / product(area, mode, mode)));
    fields.push(mode);
  }
  const shear = new Float64Array(SHEAR * count);
  for (const [i, own] of fields.entries()) {
    for (let k = 0; k < count; k++) shear.set(own.subarray(2 * k, 2 * k + 2), SHEAR * k + 2 * i);
  }
  return {
    ...fibres,
    torsion: {
      shear,
      farShear: area.reduce((most, _, k) => Math.max(most, Math.hypot(byTwist[2 * k], byTwist[2 * k + 1])), 0),
      stiffness: shearModulus * torsionConstant,
      modeStiffness: shearModulus * size,
      law: shearLaw(law, shearModulus),
    },
  };
}

type Grid = Parameters<typeof griddedSection>[2];

/** Powers of up and side: what is even under a half turn and odd in both, as warping by torsion is. */
const MODES = [
  [1, 1],
  [1, 3],
  [3, 1],
] as const;

/** Along up and along side, fibre by fibre. */
function field(count: number, at: (k: number) => readonly [number, number]): Float64Array {
  const made = new Float64Array(2 * count);
  for (let k = 0; k < count; k++) made.set(at(k), 2 * k);
  return made;
}

function stretch(made: Float64Array, factor: number): void {
  for (let n = 0; n < made.length; n++) made[n] *= factor;
}

/** ∫ a·b dA */
function product(area: Float64Array, a: Float64Array, b: Float64Array): number {
  return area.reduce((sum, one, k) => sum + one * (a[2 * k] * b[2 * k] + a[2 * k + 1] * b[2 * k + 1]), 0);
}

export function isTwisted(section: FibreSection): section is TwistedSection {
  return section.torsion !== undefined;
}
