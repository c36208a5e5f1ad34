/** The fibre sections of a wire: one for its own stock and one for each other that a stretch of it is made of. */
import type { Stock } from '../design';
import { type FibreSection, layeredSection } from './fibre-section';
import { twistedSection } from './twisted-section';
import { fibreLaw, type UniaxialLaw } from './uniaxial-law';

/** By stock; without one, the wire's own. `planar`: for bending about the side axis alone; otherwise twisted sections. */
export type WireFibres = (stock: Stock | undefined) => FibreSection;

export function wireFibres(own: Omit<Stock, 'count'>, planar: boolean): WireFibres {
  const single: Stock = { ...own, count: 1 };
  const known = new Map<Stock, FibreSection>();
  return (stock = single) => {
    let section = known.get(stock);
    if (!section) known.set(stock, (section = fibresOf(stock, planar)));
    return section;
  };
}

function fibresOf({ section, alloy, count }: Stock, planar: boolean): FibreSection {
  const law = fibreLaw(alloy.law ?? WITHOUT_YIELD, alloy.modulus);
  const shearModulus = alloy.modulus / (2 * (1 + alloy.poisson));
  const one = planar ? layeredSection(section, law) : twistedSection(section, law, shearModulus);
  return count === 1 ? one : sideBySide(one, count);
}

/** What an alloy without a law does beyond its elastic range is not known: it is elastic throughout. */
const WITHOUT_YIELD: UniaxialLaw = { kind: 'elastic-plastic', yield: Number.POSITIVE_INFINITY, hardening: 0 };

/** Wires that share what one would bear and bend alike. */
export function sideBySide(section: FibreSection, count: number): FibreSection {
  const { area, size, stiffnessSide, stiffnessUp, torsion } = section;
  return {
    ...section,
    area: area.map((one) => count * one),
    size: count * size,
    stiffnessSide: count * stiffnessSide,
    stiffnessUp: count * stiffnessUp,
    torsion: torsion && {
      ...torsion,
      stiffness: count * torsion.stiffness,
      modeStiffness: count * torsion.modeStiffness,
    },
  };
}
