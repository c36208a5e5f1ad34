/** How a wire in hand may differ from the design that it was bent from, and the design of such a wire. */
import type { Alloy, ApplianceDesign, Section, Stock, WireElement } from '../design';

/**
 * One size, angle or material figure that scatters. `low` and `high` are the ends of its range, counted from the
 * design's own value, mm, rad, MPa or a plain number; the design's value need not lie in the middle.
 */
export type Scatter = { readonly low: number; readonly high: number } & (
  | {
      /** Length of a straight, or angle of a bend, helix or twist, that these elements (first, end) make up. */
      readonly kind: 'straight' | 'bend' | 'twist';
      readonly elements: readonly [number, number];
      /** mm or rad, as the design has it; not zero. */
      readonly amount: number;
    }
  /** Of the alloy of that name wherever the wire is of it; of the wire's own where none is named. */
  | { readonly kind: 'modulus' | 'poisson' | 'yield'; readonly alloy?: string }
  /** Of the section of these sizes wherever the wire has it; of the wire's own where none is given. */
  | { readonly kind: 'height' | 'width' | 'diameter'; readonly section?: Section }
);

/**
 * The design of a wire that differs from the one meant by one deviation per scatter. Attachments stay where they are; the
 * marks by which the wire is seated go with the wire.
 */
export function varied(
  design: ApplianceDesign,
  scatter: readonly Scatter[],
  deviations: ArrayLike<number>,
): ApplianceDesign {
  const elements = [...design.elements];
  const made = (alloy: Alloy) => variedAlloy(alloy, design.alloy.name, scatter, deviations);
  const sized = (section: Section) => variedSection(section, design.section, scatter, deviations);
  for (const [k, one] of scatter.entries()) {
    const deviation = deviations[k];
    switch (one.kind) {
      case 'straight':
      case 'bend':
      case 'twist': {
        const factor = (one.amount + deviation) / one.amount;
        for (let i = one.elements[0]; i < one.elements[1]; i++) elements[i] = stretched(elements[i], one.kind, factor);
        break;
      }
    }
  }
  // Elements of one stock stay so.
  const stocks = new Map<Stock, Stock>();
  for (const { stock } of elements) {
    if (stock) stocks.set(stock, { ...stock, alloy: made(stock.alloy), section: sized(stock.section) });
  }
  const place = placesAlong(design.elements, elements);
  return {
    ...design,
    elements:
      stocks.size === 0
        ? elements
        : elements.map((one) => (one.stock ? { ...one, stock: stocks.get(one.stock) } : one)),
    alloy: made(design.alloy),
    section: sized(design.section),
    attachments: design.attachments.map((attachment) => ({ ...attachment, station: place(attachment.station) })),
    loops: design.loops.map((loop) => ({ ...loop, feet: [place(loop.feet[0]), place(loop.feet[1])] })),
  };
}

/** A bend by another angle keeps its radius, a twist its length; a straight cannot be shorter than nothing. */
function stretched(element: WireElement, kind: 'straight' | 'bend' | 'twist', factor: number): WireElement {
  const { length, shape, preactivation } = element;
  if (kind === 'straight') return { ...element, length: length * Math.max(factor, 0) };
  return {
    ...element,
    length: kind === 'bend' ? length * Math.abs(factor) : length,
    shape: [factor * shape[0], factor * shape[1], factor * shape[2]],
    preactivation: [factor * preactivation[0], factor * preactivation[1], factor * preactivation[2]],
  };
}

function variedAlloy(alloy: Alloy, own: string, scatter: readonly Scatter[], deviations: ArrayLike<number>): Alloy {
  const by = { modulus: 0, poisson: 0, yield: 0 };
  for (const [k, one] of scatter.entries()) {
    if (one.kind !== 'modulus' && one.kind !== 'poisson' && one.kind !== 'yield') continue;
    if ((one.alloy ?? own) === alloy.name) by[one.kind] += deviations[k];
  }
  const yields = alloy.yield + by.yield;
  return {
    ...alloy,
    modulus: alloy.modulus + by.modulus,
    poisson: alloy.poisson + by.poisson,
    yield: yields,
    ...(by.yield !== 0 && alloy.law?.kind === 'elastic-plastic' && { law: { ...alloy.law, yield: yields } }),
  };
}

function variedSection(
  section: Section,
  own: Section,
  scatter: readonly Scatter[],
  deviations: ArrayLike<number>,
): Section {
  const by = { height: 0, width: 0, diameter: 0 };
  for (const [k, one] of scatter.entries()) {
    if (one.kind !== 'height' && one.kind !== 'width' && one.kind !== 'diameter') continue;
    if (sameSection(one.section ?? own, section)) by[one.kind] += deviations[k];
  }
  return section.kind === 'round'
    ? { ...section, diameter: section.diameter + by.diameter }
    : { ...section, height: section.height + by.height, width: section.width + by.width };
}

export function sameSection(a: Section, b: Section): boolean {
  if (a.kind === 'round') return b.kind === 'round' && a.diameter === b.diameter;
  if (b.kind === 'round') return false;
  return a.height === b.height && a.width === b.width && a.cornerRadius === b.cornerRadius;
}

/** Where a station of the one wire lies on the other, whose elements are longer or shorter. */
function placesAlong(before: readonly WireElement[], after: readonly WireElement[]): (station: number) => number {
  return (station) => {
    let from = 0;
    let to = 0;
    for (const [k, { length }] of before.entries()) {
      if (length > 0 && station < from + length) return to + ((station - from) / length) * after[k].length;
      from += length;
      to += after[k].length;
    }
    return to + (station - from);
  };
}
