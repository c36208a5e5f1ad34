/** The language's operators on quantities and conditions. */
import {
  dimensionPhrase,
  divide,
  FORCE,
  isNumber,
  MOMENT,
  multiply,
  NUMBER,
  power,
  sameDimension,
} from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';
import type { BinaryExpression, Expression, UnaryExpression } from '#grammar/tree';
import { notComputable } from '../diagnostics/not-computable';
import { quantityExpected } from '../diagnostics/quantity-expected';
import { unitMismatch } from '../diagnostics/unit-mismatch';
import { bareNumber, likelyFix, mismatchHint, reportMissingUnit } from './mismatch';
import { type Place, quote } from './place';
import { type QuantityValue, quantityValue, type TruthValue, truthValue, type Value } from './value';

/** Smaller forces (N) and moments (N mm) make a ratio meaningless (language note, Requirements). */
const LEAST_DENOMINATOR = 0.01;

/** One side of a comparison or a sum. */
export interface Side {
  readonly expression: Expression | undefined;
  readonly value: Value | undefined;
}

export function negate(expression: UnaryExpression, value: Value | undefined, place: Place): Value | undefined {
  if (!value) return undefined;
  if (expression.operator === 'not') {
    if (value.kind === 'quantity') return conditionNeeded(expression.operand, place);
    return truthValue(value.truth === undefined ? undefined : !value.truth, value.ofResults);
  }
  if (value.kind === 'truth') return quantityNeeded(expression.operand, place);
  return quantityValue(value.value === undefined ? undefined : -value.value, value.dimension, value.ofResults);
}

export function applyBinary(
  expression: BinaryExpression,
  left: Value | undefined,
  right: Value | undefined,
  place: Place,
): Value | undefined {
  const { operator } = expression;
  if (operator === 'and' || operator === 'or') return combineConditions(expression, left, right, place);
  const sides = [
    { expression: expression.left, value: left },
    { expression: expression.right, value: right },
  ] as const;
  switch (operator) {
    case '+':
    case '-':
      return addOrSubtract(operator, ...sides, place);
    case '*':
    case '/':
    case '^':
      return multiplicative(expression, ...sides, place);
    default:
      return compareOrdered(operator, ...sides, place);
  }
}

/** Compares two quantities of the same dimension. */
export function compareOrdered(
  operator: '<' | '<=' | '>' | '>=' | '==' | '!=',
  left: Side,
  right: Side,
  place: Place,
): TruthValue | undefined {
  const pair = samePair('compared', left, right, place);
  if (!pair) return undefined;
  const [a, b] = pair;
  const ofResults = a.ofResults || b.ofResults;
  if (a.value === undefined || b.value === undefined) return truthValue(undefined, ofResults);
  return truthValue(holds(operator, a.value, b.value), ofResults);
}

function holds(operator: '<' | '<=' | '>' | '>=' | '==' | '!=', a: number, b: number): boolean {
  switch (operator) {
    case '<':
      return a < b;
    case '<=':
      return a <= b;
    case '>':
      return a > b;
    case '>=':
      return a >= b;
    case '==':
      return a === b;
    case '!=':
      return a !== b;
  }
}

function combineConditions(
  { operator, left: leftExpression, right: rightExpression }: BinaryExpression,
  left: Value | undefined,
  right: Value | undefined,
  place: Place,
): Value | undefined {
  if (left?.kind === 'quantity') return conditionNeeded(leftExpression, place);
  if (right?.kind === 'quantity') return conditionNeeded(rightExpression, place);
  if (!left || !right) return undefined;
  const ofResults = left.ofResults || right.ofResults;
  // One side may decide although the other is not known.
  const deciding = operator === 'or';
  if (left.truth === deciding || right.truth === deciding) return truthValue(deciding, ofResults);
  if (left.truth === undefined || right.truth === undefined) return truthValue(undefined, ofResults);
  return truthValue(!deciding, ofResults);
}

function addOrSubtract(operator: '+' | '-', left: Side, right: Side, place: Place): Value | undefined {
  const pair = samePair(operator === '+' ? 'added' : 'subtracted', left, right, place);
  if (!pair) return undefined;
  const [a, b] = pair;
  const known = a.value !== undefined && b.value !== undefined;
  const value = known ? a.value + (operator === '+' ? b.value : -b.value) : undefined;
  return quantityValue(value, a.dimension, a.ofResults || b.ofResults);
}

function multiplicative(
  expression: BinaryExpression,
  left: Side,
  right: Side,
  place: Place,
): QuantityValue | undefined {
  const a = asQuantity(left, place);
  const b = asQuantity(right, place);
  if (!a || !b) return undefined;
  const ofResults = a.ofResults || b.ofResults;
  const known = a.value !== undefined && b.value !== undefined;
  if (expression.operator === '*') {
    return finite(
      expression,
      known ? a.value * b.value : undefined,
      multiply(a.dimension, b.dimension),
      ofResults,
      place,
    );
  }
  if (expression.operator === '/') {
    const dimension = divide(a.dimension, b.dimension);
    if (known && tooSmallToDivideBy(b)) {
      const what = sameDimension(b.dimension, FORCE) ? 'force' : 'moment';
      const limit = what === 'force' ? '0.01 N' : '0.01 N mm';
      place.recorder.problem(
        notComputable.at(
          expression.span,
          `The ${what} that it divides by is below ${limit}, so that the ratio means nothing`,
        ),
      );
      return undefined;
    }
    if (b.value === 0) {
      place.recorder.problem(
        notComputable.at(expression.span, `${quoteSide(right, place)} is zero; nothing can be divided by it.`),
      );
      return undefined;
    }
    return finite(expression, known ? a.value / b.value : undefined, dimension, ofResults, place);
  }
  return raise(expression, a, b, right, place);
}

function raise(
  expression: BinaryExpression,
  base: QuantityValue,
  exponent: QuantityValue,
  exponentSide: Side,
  place: Place,
): QuantityValue | undefined {
  if (!isNumber(exponent.dimension)) {
    return mismatch(
      exponentSide.expression ?? expression,
      `An exponent is a plain number, but ${quoteSide(exponentSide, place)} is ${dimensionPhrase(exponent.dimension)}.`,
      place,
    );
  }
  if (exponent.value === undefined) {
    if (isNumber(base.dimension)) return quantityValue(undefined, NUMBER, base.ofResults || exponent.ofResults);
    return mismatch(expression, 'The exponent of a quantity with a unit is a number written out, such as ^ 2.', place);
  }
  const value = base.value === undefined ? undefined : base.value ** exponent.value;
  return finite(expression, value, power(base.dimension, exponent.value), base.ofResults, place);
}

function finite(
  expression: Expression,
  value: number | undefined,
  dimension: Dimension,
  ofResults: boolean,
  place: Place,
): QuantityValue | undefined {
  if (value !== undefined && !Number.isFinite(value)) {
    place.recorder.problem(notComputable.at(expression.span, `"${quote(expression, place)}" has no finite value.`));
    return undefined;
  }
  return quantityValue(value, dimension, ofResults);
}

function tooSmallToDivideBy(value: QuantityValue): boolean {
  const counts = sameDimension(value.dimension, FORCE) || sameDimension(value.dimension, MOMENT);
  return value.ofResults && counts && Math.abs(value.value ?? 1) < LEAST_DENOMINATOR;
}

/** Both sides as quantities of one dimension; records what is wrong otherwise. */
function samePair(
  verb: 'compared' | 'added' | 'subtracted',
  left: Side,
  right: Side,
  place: Place,
): readonly [QuantityValue, QuantityValue] | undefined {
  const a = asQuantity(left, place);
  const b = asQuantity(right, place);
  if (!a || !b) return undefined;
  if (sameDimension(a.dimension, b.dimension)) return [a, b];
  for (const [bare, other] of [
    [left, right],
    [right, left],
  ] as const) {
    const number = bareNumber(bare.expression);
    const dimension = other === left ? a.dimension : b.dimension;
    // Zero is zero of every kind.
    if (number && number.number === 0) {
      const zero = quantityValue(0, dimension);
      return bare === left ? [zero, b] : [a, zero];
    }
    if (number && reportMissingUnit(number, dimension, place)) return undefined;
  }
  place.recorder.problem(
    unitMismatch.at(
      { start: left.expression?.span.start ?? 0, end: right.expression?.span.end ?? 0 },
      `${quoteSide(left, place)} is ${dimensionPhrase(a.dimension)} and ${quoteSide(right, place)} is ${dimensionPhrase(b.dimension)}; they cannot be ${verb}.`,
      literalFix(left, right, a.dimension, b.dimension, place),
      mismatchHint(a.dimension, b.dimension),
    ),
  );
  return undefined;
}

/** The side that is written out takes the kind of the other one. */
function literalFix(left: Side, right: Side, a: Dimension, b: Dimension, place: Place) {
  if (right.expression?.kind === 'quantity') return likelyFix(right.expression, b, a, place);
  if (left.expression?.kind === 'quantity') return likelyFix(left.expression, a, b, place);
  return undefined;
}

function asQuantity({ expression, value }: Side, place: Place): QuantityValue | undefined {
  if (value?.kind === 'truth') return quantityNeeded(expression, place);
  return value;
}

function quoteSide({ expression }: Side, place: Place): string {
  return expression ? `"${quote(expression, place)}"` : 'the missing side';
}

function mismatch(expression: Expression, message: string, place: Place): undefined {
  place.recorder.problem(unitMismatch.at(expression.span, message, undefined, undefined));
  return undefined;
}

function quantityNeeded(expression: Expression | undefined, place: Place): undefined {
  if (expression) place.recorder.problem(quantityExpected.at(expression.span, 'What is calculated with or compared'));
  return undefined;
}

function conditionNeeded(expression: Expression | undefined, place: Place): undefined {
  if (expression) {
    mismatch(
      expression,
      `"and", "or" and "not" join conditions, but "${quote(expression, place)}" is a quantity.`,
      place,
    );
  }
  return undefined;
}
