/** Ranges `low .. high`, both ends included. */
import { formatApart, formatQuantity } from '#core/units/format';
import type { Dimension, Quantity } from '#core/units/quantity';
import type { RangeExpression, Span } from '#grammar/tree';
import { rangeReversed } from './diagnostics/range-reversed';
import { valueOutOfRange } from './diagnostics/value-out-of-range';
import { evaluateAs } from './expression/expectation';
import { type Place, quote } from './expression/place';
import type { Recorder } from './names/scope';

export interface Range {
  readonly low: Quantity;
  readonly high: Quantity;
  /** Records a problem where the number lies outside. */
  check(name: string, value: number, span: Span, recorder?: Recorder): void;
}

/** The range's ends in the dimension of what it bounds. */
export function checkRange(range: RangeExpression | undefined, dimension: Dimension, place: Place): Range | undefined {
  const low = evaluateAs(range?.low, dimension, 'The lower end of this range', place)?.value;
  const high = evaluateAs(range?.high, dimension, 'The upper end of this range', place)?.value;
  if (!range?.low || !range.high || low === undefined || high === undefined) return undefined;
  const ends = { low: { value: low, dimension }, high: { value: high, dimension } };
  if (low > high) {
    place.recorder.problem(
      rangeReversed.at(
        range.span,
        formatQuantity(ends.low),
        formatQuantity(ends.high),
        range.low.span,
        range.high.span,
        quote(range.low, place),
        quote(range.high, place),
      ),
    );
    return undefined;
  }
  return {
    ...ends,
    check(name, value, span, recorder = place.recorder) {
      // Conversion between units may cost the last digit.
      const slack = 1e-12 * Math.max(Math.abs(low), Math.abs(high));
      if (value >= low - slack && value <= high + slack) return;
      const bound = value < low ? ends.low : ends.high;
      const [shown, shownBound] = formatApart({ value, dimension }, bound);
      const shownLow = value < low ? shownBound : formatQuantity(ends.low);
      const shownHigh = value < low ? formatQuantity(ends.high) : shownBound;
      recorder.problem(valueOutOfRange.at(span, name, shown, shownLow, shownHigh));
    },
  };
}
