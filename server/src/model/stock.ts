/** What the wire is made of at a place: its own section and alloy, or those that a `section` step gave it. */
import type { ApplianceDesign, Section, Stock } from '#core/design';

type Made = Pick<ApplianceDesign, 'elements' | 'section' | 'alloy'>;

/** At a station, mm from the wire's start; where the wire changes, what it is before. */
export function stockAt({ elements, section, alloy }: Made, station: number): Stock {
  let end = 0;
  for (const { length, stock } of elements) {
    end += length;
    if (length > 0 && end >= station - SAME_PLACE) return stock ?? { section, alloy, count: 1 };
  }
  return elements.at(-1)?.stock ?? { section, alloy, count: 1 };
}

/** mm along the wire */
const SAME_PLACE = 1e-9;

/** What wires that lie side by side, along their width, take together. */
export function outerSection({ section, count }: Pick<Stock, 'section' | 'count'>): Section {
  if (count === 1) return section;
  if (section.kind === 'rectangle') return { ...section, width: count * section.width };
  const { diameter } = section;
  return { kind: 'rectangle', height: diameter, width: count * diameter, cornerRadius: diameter / 2 };
}

export interface Stretch {
  /** Stations, mm from the wire's start. */
  readonly from: number;
  readonly to: number;
  readonly stock: Stock;
}

/** The wire's stretches of one make each, in order; one where it is the same throughout. */
export function stretches({ elements, section, alloy }: Made): readonly Stretch[] {
  const own: Stock = { section, alloy, count: 1 };
  const found: Stretch[] = [];
  let from = 0;
  for (const { length, stock = own } of elements) {
    const last = found.at(-1);
    const to = from + length;
    if (last?.stock === stock) found[found.length - 1] = { ...last, to };
    else if (length > 0) found.push({ from, to, stock });
    from = to;
  }
  return found.length > 0 ? found : [{ from: 0, to: 0, stock: own }];
}
