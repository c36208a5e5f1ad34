/** Holds an expression's value against what is expected where it stands. */
import {
  ANGLE,
  dimensionPhrase,
  FORCE,
  isNumber,
  LENGTH,
  MOMENT,
  NUMBER,
  STIFFNESS,
  STRESS,
  sameDimension,
  TIME,
} from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';
import type { Expression, QuantityExpression } from '#grammar/tree';
import { quantityExpected } from '../diagnostics/quantity-expected';
import { resultInShape } from '../diagnostics/result-in-shape';
import { unitMismatch } from '../diagnostics/unit-mismatch';
import { unitMissing } from '../diagnostics/unit-missing';
import { evaluateExpression, type Place, quote } from './evaluate-expression';
import { mismatchHint } from './operators';
import type { QuantityValue, Value } from './value';

/**
 * Value of the expression in mm, N, rad … if it has the expected dimension, with `what` naming the place
 * ("A bend angle"). Undefined where the expression is missing, wrong (its problem is recorded) or not known yet.
 */
export function evaluateNumber(
  expression: Expression | undefined,
  expected: Dimension,
  what: string,
  place: Place,
): number | undefined {
  return evaluateAs(expression, expected, what, place)?.value;
}

export function evaluateAs(
  expression: Expression | undefined,
  expected: Dimension,
  what: string,
  place: Place,
): QuantityValue | undefined {
  if (!expression) return undefined;
  const value = expectDimension(expression, evaluateExpression(expression, place), expected, what, place);
  if (value?.ofResults) {
    place.recorder.problem(resultInShape.at(expression.span, quote(expression, place)));
    return undefined;
  }
  return value;
}

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

/** A plain number. */
export function evaluatePlainNumber(
  expression: Expression | undefined,
  what: string,
  place: Place,
): number | undefined {
  return evaluateNumber(expression, NUMBER, what, place);
}
