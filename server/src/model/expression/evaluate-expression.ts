/** Evaluates expressions with their dimensions. Problems are recorded; a missing value has had its problem. */

import { NUMBER } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { compoundUnit, UNITS } from '#core/units/unit';
import type { Expression, NameExpression, QuantityExpression, RangeExpression, WithinExpression } from '#grammar/tree';
import { rangeReversed } from '../diagnostics/range-reversed';
import { unknownName } from '../diagnostics/unknown-name';
import { unknownUnit } from '../diagnostics/unknown-unit';
import { wrongKindOfName } from '../diagnostics/wrong-kind-of-name';
import { nearest } from '../names/nearest';
import { find, namesInReach } from '../names/scope';
import type { Definition } from '../resolved';
import { applyFunction } from './functions';
import { applyBinary, compareOrdered, negate } from './operators';
import { kindPhrase, type Place, quote } from './place';
import { knownQuantity, quantityValue, truthValue, type Value } from './value';

/** Kinds of definitions that have a value. */
const VALUED: readonly Definition['kind'][] = ['let', 'parameter'];

export function evaluateExpression(expression: Expression | undefined, place: Place): Value | undefined {
  if (!expression) return undefined;
  const value = evaluateKind(expression, place);
  if (value) place.recorder.evaluated(expression.span, value);
  return value;
}

function evaluateKind(expression: Expression, place: Place): Value | undefined {
  switch (expression.kind) {
    case 'quantity':
      return evaluateLiteral(expression, place);
    case 'name':
      return evaluateName(expression, place);
    case 'member':
      return place.member(expression, place);
    case 'group':
      return evaluateExpression(expression.inner, place);
    case 'unary':
      return negate(expression, evaluateExpression(expression.operand, place), place);
    case 'binary': {
      const left = evaluateExpression(expression.left, place);
      const right = evaluateExpression(expression.right, place);
      return applyBinary(expression, left, right, place);
    }
    case 'within':
      return evaluateWithin(expression, place);
    case 'function': {
      const values = expression.arguments.map((argument) => evaluateExpression(argument, place));
      return applyFunction(expression, values, place);
    }
  }
}

function evaluateLiteral(expression: QuantityExpression, place: Place): Value | undefined {
  if (!expression.unit) return quantityValue(expression.number, NUMBER);
  const { numerator, denominator } = expression.unit;
  const unit = compoundUnit(
    numerator.map((word) => word.text),
    denominator.map((word) => word.text),
  );
  if ('unknown' in unit) {
    const word = [...numerator, ...denominator].find((candidate) => candidate.text === unit.unknown);
    place.recorder.problem(unknownUnit.at(word?.span ?? expression.span, unit.unknown, likelyUnit(unit.unknown)));
    return undefined;
  }
  return quantityValue(expression.number * unit.factor, unit.dimension);
}

/** The trade writes g for the gram of force, and people write ° and inches out. */
const HABITS: ReadonlyMap<string, string> = new Map([
  ['g', 'gf'],
  ['gm', 'gf'],
  ['gr', 'gf'],
  ['grams', 'gf'],
  ['degree', 'deg'],
  ['degrees', 'deg'],
  ['inch', 'in'],
  ['inches', 'in'],
  ['week', 'weeks'],
  ['month', 'months'],
  ['day', 'days'],
  ['Nmm', 'N mm'],
]);

function likelyUnit(word: string): string | undefined {
  return HABITS.get(word) ?? nearest(word, UNITS.keys());
}

function evaluateName({ name }: NameExpression, place: Place): Value | undefined {
  const named = find(place.scope, name.text, VALUED);
  if (!named) {
    const known = namesInReach(place.scope, VALUED);
    place.recorder.problem(unknownName.at(name.span, 'value', name.text, known, nearest(name.text, known)));
    return undefined;
  }
  place.recorder.reference(name.span, named.definition);
  if (!VALUED.includes(named.definition.kind)) {
    place.recorder.problem(wrongKindOfName.at(name.span, name.text, kindPhrase(named.definition.kind), 'a value'));
    return undefined;
  }
  return named.value();
}

function evaluateWithin({ value, range }: WithinExpression, place: Place): Value | undefined {
  const actual = evaluateExpression(value, place);
  const low = evaluateExpression(range?.low, place);
  const high = evaluateExpression(range?.high, place);
  if (!value || !range) return undefined;
  const above = compareOrdered(
    '>=',
    { expression: value, value: actual },
    { expression: range.low, value: low },
    place,
  );
  const below = compareOrdered(
    '<=',
    { expression: value, value: actual },
    { expression: range.high, value: high },
    place,
  );
  if (!above || !below) return undefined;
  reportReversed(range, low, high, place);
  const ofResults = above.ofResults || below.ofResults;
  if (above.truth === undefined || below.truth === undefined) return truthValue(undefined, ofResults);
  return truthValue(above.truth && below.truth, ofResults);
}

/** Nothing lies in a range whose ends are the wrong way round. */
function reportReversed(
  range: RangeExpression,
  lowValue: Value | undefined,
  highValue: Value | undefined,
  place: Place,
): void {
  const low = knownQuantity(lowValue);
  const high = knownQuantity(highValue);
  if (!range.low || !range.high || !low || !high || low.value <= high.value) return;
  const [from, to] = [quote(range.low, place), quote(range.high, place)];
  place.recorder.problem(
    rangeReversed.at(range.span, formatQuantity(low), formatQuantity(high), range.low.span, range.high.span, from, to),
  );
}
