/** How a wire in hand may differ from the design that it was bent from, and the design of such a wire. */
import type { ApplianceDesign, Section, WireElement } from '../design';

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
  | { readonly kind: 'modulus' | 'poisson' | 'yield' }
  | { readonly kind: 'height' | 'width' | 'diameter' }
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
  const alloy = { ...design.alloy };
  const section: { -readonly [K in 'height' | 'width' | 'diameter']?: number } = {};
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
      case 'modulus':
      case 'poisson':
        alloy[one.kind] += deviation;
        break;
      case 'yield':
        alloy.yield += deviation;
        if (alloy.law?.kind === 'elastic-plastic') alloy.law = { ...alloy.law, yield: alloy.yield };
        break;
      default:
        section[one.kind] = deviation;
    }
  }
  const place = placesAlong(design.elements, elements);
  return {
    ...design,
    elements,
    alloy,
    section: thickened(design.section, section),
    attachments: design.attachments.map((attachment) => ({ ...attachment, station: place(attachment.station) })),
    loops: design.loops.map((loop) => ({ ...loop, feet: [place(loop.feet[0]), place(loop.feet[1])] })),
  };
}

/** A bend by another angle keeps its radius, a twist its length; a straight cannot be shorter than nothing. */
function stretched(element: WireElement, kind: 'straight' | 'bend' | 'twist', factor: number): WireElement {
  const { length, shape, preactivation } = element;
  if (kind === 'straight') return { ...element, length: length * Math.max(factor, 0) };
  return {
    length: kind === 'bend' ? length * Math.abs(factor) : length,
    shape: [factor * shape[0], factor * shape[1], factor * shape[2]],
    preactivation: [factor * preactivation[0], factor * preactivation[1], factor * preactivation[2]],
  };
}

function thickened(
  section: Section,
  {
    height = 0,
    width = 0,
    diameter = 0,
  }: { readonly height?: number; readonly width?: number; readonly diameter?: number },
): Section {
  return section.kind === 'round'
    ? { ...section, diameter: section.diameter + diameter }
    : { ...section, height: section.height + height, width: section.width + width };
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
