/**
 * A cross-section of fibres along the wire that are bent and sheared by torsion. Each fibre bears a stress along the wire and,
 * as the section is twisted, a shear in the direction and of the share that Saint-Venant's elastic torsion gives its
 * place; both yield together (von-mises.ts). Warping keeps its elastic shape: a round section, which does not warp, bears the
 * torque of its plastic limit exactly, a rectangle some per cent more than a heap of sand over it says (Nadai; Prager and Hodge,
 * Theory of Perfectly Plastic Solids; `tests/core/twisted-section.test.ts` has the figures). A section and its image under a half turn
 * are alike, as in bending. mm, MPa, N mm, rad/mm.
 */
import type { Section } from '../design';
import { type FibreSection, griddedSection } from './fibre-section';
import { sectionProperties } from './section';
import { rectangleShear } from './torsion';
import type { FibreLaw } from './uniaxial-law';
import { type ShearLaw, shearLaw } from './von-mises';

export interface Torsion {
  /** Shear of each fibre by twist per length, mm. */
  readonly shear: Float64Array;
  readonly farShear: number;
  /** Elastic torsional stiffness, N mm²: exactly the section's. */
  readonly stiffness: number;
  /** Whether torsion yields: of alloys that are elastic and plastic. */
  readonly law: ShearLaw | undefined;
}

export interface TwistedSection extends FibreSection {
  readonly torsion: Torsion;
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
    torsion: {
      shear,
      farShear: shear.reduce((most, x) => Math.max(most, x), 0),
      stiffness: shearModulus * torsionConstant,
      law: shearLaw(law, shearModulus),
    },
  };
}

type Grid = Parameters<typeof griddedSection>[2];

export function isTwisted(section: FibreSection): section is TwistedSection {
  return section.torsion !== undefined;
}
