/** Quantities of another kind than expected, and numbers without a unit. */
import {
  ANGLE,
  dimensionPhrase,
  FORCE,
  isNumber,
  LENGTH,
  MOMENT,
  multiply,
  STIFFNESS,
  STRESS,
  sameDimension,
  TIME,
} from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';
import type { Expression, QuantityExpression } from '#grammar/tree';
import { quantityExpected } from '../diagnostics/quantity-expected';
import { unitMismatch } from '../diagnostics/unit-mismatch';
import { unitMissing } from '../diagnostics/unit-missing';
import { type Place, quote } from './place';
import type { QuantityValue, Value } from './value';

/** The value as a quantity of the expected dimension, with `what` naming the place; otherwise a problem. */
export function expectDimension(
  expression: Expression,
  value: Value | undefined,
  expected: Dimension,
  what: string,
  place: Place,
): QuantityValue | undefined {
  if (!value) return undefined;
  if (value.kind === 'truth') {
    place.recorder.problem(quantityExpected.at(expression.span, what));
    return undefined;
  }
  if (sameDimension(value.dimension, expected)) return value;
  const number = bareNumber(expression);
  if (number?.number === 0) return { ...value, dimension: expected };
  if (number && reportMissingUnit(number, expected, place)) return undefined;
  place.recorder.problem(
    unitMismatch.at(
      expression.span,
      `${what} is ${dimensionPhrase(expected)}, but "${quote(expression, place)}" is ${dimensionPhrase(value.dimension)}.`,
      otherUnit(expression, expected),
      mismatchHint(value.dimension, expected),
    ),
  );
  return undefined;
}

/** A number written without a unit, possibly in parentheses or with a sign. */
export function bareNumber(expression: Expression | undefined): QuantityExpression | undefined {
  if (expression?.kind === 'group') return bareNumber(expression.inner);
  if (expression?.kind === 'unary' && expression.operator === '-') return bareNumber(expression.operand);
  return expression?.kind === 'quantity' && !expression.unit ? expression : undefined;
}

/** Reports that a number lacks the usual unit of the expected dimension. False where there is no usual one. */
export function reportMissingUnit(number: QuantityExpression, expected: Dimension, place: Place): boolean {
  const unit = usualUnit(expected);
  if (unit === undefined) return false;
  const text = place.text.slice(number.numberSpan.start, number.numberSpan.end);
  const end = { start: number.numberSpan.end, end: number.numberSpan.end };
  place.recorder.problem(unitMissing.at(number.span, text, dimensionPhrase(expected), unit, end));
  return true;
}

export function usualUnit(dimension: Dimension): string | undefined {
  return USUAL.find(([candidate]) => sameDimension(candidate, dimension))?.[1];
}

const USUAL: readonly (readonly [Dimension, string])[] = [
  [LENGTH, 'mm'],
  [ANGLE, 'deg'],
  [FORCE, 'gf'],
  [MOMENT, 'N mm'],
  [STRESS, 'MPa'],
  [STIFFNESS, 'N/mm'],
  [TIME, 'weeks'],
];

/** A literal with the wrong unit: the same number with the usual one. */
function otherUnit(expression: Expression, expected: Dimension) {
  if (expression.kind !== 'quantity' || !expression.unit) return undefined;
  const unit = isNumber(expected) ? '' : usualUnit(expected);
  if (unit === undefined) return undefined;
  const text = `${expression.number}${unit === '' ? '' : ` ${unit}`}`;
  return { title: `Write ${text}`, span: expression.span, text };
}

/** What is mostly behind a mismatch. */
export function mismatchHint(a: Dimension, b: Dimension): string | undefined {
  for (const [one, other] of [
    [a, b],
    [b, a],
  ]) {
    if (sameDimension(one, multiply(other, ANGLE)) && sameDimension(other, MOMENT)) {
      return 'A moment times an angle is an energy, not a moment.';
    }
    if (sameDimension(one, multiply(other, ANGLE))) {
      return 'An angle is a kind of its own: write arc(radius, angle) for the length of an arc.';
    }
    if (sameDimension(one, MOMENT) && sameDimension(other, FORCE)) {
      return 'A moment is a force times a distance; divide it by one to get the other.';
    }
  }
  return undefined;
}
