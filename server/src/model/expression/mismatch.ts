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
import { compoundUnit, UNITS } from '#core/units/unit';
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
      likelyFix(expression, value.dimension, expected, place),
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

/** One step that makes the expression a quantity of the expected kind, where there is a likely one. */
export function likelyFix(expression: Expression | undefined, value: Dimension, expected: Dimension, place: Place) {
  if (!expression) return undefined;
  const text =
    expression.kind === 'quantity' ? otherUnit(expression, expected) : givenUnit(expression, value, expected, place);
  return text === undefined ? undefined : { title: `Write ${text}`, span: expression.span, text };
}

/** A literal with the wrong unit: the same number with the nearest one of the expected kind. */
function otherUnit({ number, unit }: QuantityExpression, expected: Dimension): string | undefined {
  if (!unit) return undefined;
  if (isNumber(expected)) return `${number}`;
  const over = unit.numerator.map(({ text }) => text);
  const under = unit.denominator.map(({ text }) => text);
  // A moment for a force and the other way round keep the word that says how strong.
  const near: (readonly [string[], string[]])[] = [
    [over.filter((word) => !isLength(word)), []],
    [[...over, 'mm'], under],
    [over, [...under, 'mm']],
    [over, []],
  ];
  const kept = near.find(([numerator, denominator]) => {
    const candidate = compoundUnit(numerator, denominator);
    return numerator.length > 0 && 'dimension' in candidate && sameDimension(candidate.dimension, expected);
  });
  const words = kept ? [kept[0].join(' '), ...kept[1]].join('/') : usualUnit(expected);
  return words === undefined ? undefined : `${number} ${words}`;
}

function isLength(word: string): boolean {
  const unit = UNITS.get(word);
  return unit !== undefined && sameDimension(unit.dimension, LENGTH);
}

/** A plain number that is meant in the usual unit, such as degrees. */
function givenUnit(expression: Expression, value: Dimension, expected: Dimension, place: Place): string | undefined {
  const unit = usualUnit(expected);
  if (!isNumber(value) || unit === undefined) return undefined;
  const text = quote(expression, place);
  const closed = expression.kind === 'name' || expression.kind === 'group' || expression.kind === 'function';
  return `${closed ? text : `(${text})`} * 1 ${unit}`;
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
