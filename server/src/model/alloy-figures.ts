/** What an alloy states of itself: each figure with its range and its source. */
import type { Quantity } from '#core/units/quantity';
import type { AlloyItem } from '#grammar/tree';
import { evaluateNumber } from './expression/expectation';
import { type Provenance, provenanceOf } from './provenance';
import { checkRange } from './range';
import type { Definition } from './resolved';
import { ALLOY_PROPERTIES } from './wire';

export interface AlloyFigure extends Provenance {
  readonly name: string;
  readonly value: Quantity;
  readonly range: { readonly low: Quantity; readonly high: Quantity } | undefined;
}

/** In written order; what is wrong with them was reported when the alloy was resolved. */
export function alloyFigures({ node, home: { place } }: Definition): readonly AlloyFigure[] {
  return (node as AlloyItem).properties.flatMap(({ name, value, range, source }) => {
    const dimension = name && ALLOY_PROPERTIES.get(name.text)?.dimension;
    const number = dimension && evaluateNumber(value, dimension, 'An alloy property', place);
    if (!name || !dimension || number === undefined) return [];
    const bounds = checkRange(range, dimension, place);
    return [
      {
        name: name.text,
        value: { value: number, dimension },
        range: bounds && { low: bounds.low, high: bounds.high },
        ...provenanceOf(source),
      },
    ];
  });
}
