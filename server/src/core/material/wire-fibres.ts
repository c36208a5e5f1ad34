/** The fibre sections of a wire: one for its own stock and one for each other that a stretch of it is made of. */
import type { Stock } from '../design';
import { type FibreSection, layeredSection } from './fibre-section';
import { isTwisted, type TwistedSection, twistedSection } from './twisted-section';
import { fibreLaw, type UniaxialLaw } from './uniaxial-law';

/** By stock; without one, the wire's own. `planar`: for bending about the side axis alone; otherwise twisted sections. */
export type WireFibres = (stock: Stock | undefined) => FibreSection | TwistedSection;

export function wireFibres(own: Omit<Stock, 'count'>, planar: boolean): WireFibres {
  const single: Stock = { ...own, count: 1 };
  const known = new Map<Stock, FibreSection | TwistedSection>();
  return (stock = single) => {
    let section = known.get(stock);
    if (!section) known.set(stock, (section = fibresOf(stock, planar)));
    return section;
  };
}

function fibresOf({ section, alloy, count }: Stock, planar: boolean): FibreSection | TwistedSection {
  const law = fibreLaw(alloy.law ?? WITHOUT_YIELD, alloy.modulus);
  const shearModulus = alloy.modulus / (2 * (1 + alloy.poisson));
  const one = planar ? layeredSection(section, law) : twistedSection(section, law, shearModulus);
  return count === 1 ? one : sideBySide(one, count);
}

/** What an alloy without a law does beyond its elastic range is not known: it is elastic throughout. */
const WITHOUT_YIELD: UniaxialLaw = { kind: 'elastic-plastic', yield: Number.POSITIVE_INFINITY, hardening: 0 };

/** Wires that share what one would bear and bend alike. */
export function sideBySide<Fibres extends FibreSection | TwistedSection>(section: Fibres, count: number): Fibres {
  return {
    ...section,
    area: section.area.map((area) => count * area),
    stiffnessSide: count * section.stiffnessSide,
    stiffnessUp: count * section.stiffnessUp,
    ...(isTwisted(section) && { stiffnessTwist: count * section.stiffnessTwist }),
  };
}
