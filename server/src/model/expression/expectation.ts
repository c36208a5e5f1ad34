/** Holds an expression's value against what is expected where it stands. */

import { NUMBER } from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';
import type { Expression } from '#grammar/tree';
import { resultInShape } from '../diagnostics/result-in-shape';
import { evaluateExpression } from './evaluate-expression';
import { expectDimension } from './mismatch';
import { type Place, quote } from './place';
import type { QuantityValue } from './value';

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

/** A plain number. */
export function evaluatePlainNumber(
  expression: Expression | undefined,
  what: string,
  place: Place,
): number | undefined {
  return evaluateNumber(expression, NUMBER, what, place);
}
