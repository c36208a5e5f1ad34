/** One condition of a requirement in one state: whether it holds, by how much, and its figures. */
import type { Quantity } from '#core/units/quantity';
import type { BinaryExpression, Expression } from '#grammar/tree';
import { evaluateExpression } from '../expression/evaluate-expression';
import { type Place, quote } from '../expression/place';
import { knownQuantity, type Value } from '../expression/value';

export interface ConditionReading {
  readonly outcome: 'met' | 'missed' | 'not-evaluable';
  /** How far inside its bound (positive) or outside (negative), in the actual value's own units. */
  readonly margin: number;
  /** The computed side. */
  readonly what: string | undefined;
  readonly actual: Quantity | undefined;
  readonly bound: Bound | undefined;
  readonly reason: string | undefined;
}

export type Bound =
  | { readonly kind: 'range'; readonly low: Quantity; readonly high: Quantity }
  | { readonly kind: Comparison; readonly value: Quantity };

type Comparison = '<' | '<=' | '>' | '>=' | '==' | '!=';

const MIRRORED: Readonly<Record<Comparison, Comparison>> = {
  '<': '>',
  '<=': '>=',
  '>': '<',
  '>=': '<=',
  '==': '==',
  '!=': '!=',
};

/** `reasons` gathers what the place's recorder was told while the condition was evaluated. */
export function evaluateCondition(test: Expression, place: Place, reasons: readonly string[]): ConditionReading {
  const value = evaluateExpression(test, place);
  if (value?.kind !== 'truth' || value.truth === undefined) {
    const reason = reasons[0] ?? 'a value that it needs is not known';
    return { ...NOTHING, outcome: 'not-evaluable', margin: Number.NEGATIVE_INFINITY, reason };
  }
  const outcome = value.truth ? 'met' : 'missed';
  return { ...NOTHING, margin: value.truth ? 1 : -1, ...figures(test, place), outcome };
}

const NOTHING: Pick<ConditionReading, 'what' | 'actual' | 'bound' | 'reason'> = {
  what: undefined,
  actual: undefined,
  bound: undefined,
  reason: undefined,
};

function figures(test: Expression, place: Place): Partial<ConditionReading> {
  if (test.kind === 'group' && test.inner) return figures(test.inner, place);
  if (test.kind === 'within' && test.value) {
    const actual = quantityOf(test.value, place);
    const low = quantityOf(test.range?.low, place);
    const high = quantityOf(test.range?.high, place);
    if (!actual || !low || !high) return {};
    const margin = Math.min(actual.value - low.value, high.value - actual.value);
    return { what: quote(test.value, place), actual, bound: { kind: 'range', low, high }, margin };
  }
  if (test.kind === 'binary' && isComparison(test.operator)) return comparisonFigures(test, test.operator, place);
  return {};
}

function comparisonFigures(test: BinaryExpression, operator: Comparison, place: Place): Partial<ConditionReading> {
  const left = evaluateExpression(test.left, place);
  const right = evaluateExpression(test.right, place);
  if (!test.left || !test.right) return {};
  // `2 N mm <= molar.moment.total` tells of the moment, not of the bound.
  const turned = isOfResults(right) && !isOfResults(left);
  const actual = knownQuantity(turned ? right : left);
  const value = knownQuantity(turned ? left : right);
  if (!actual || !value) return {};
  const kind = turned ? MIRRORED[operator] : operator;
  const difference = actual.value - value.value;
  const margin =
    kind === '=='
      ? -Math.abs(difference)
      : kind === '!='
        ? Math.abs(difference)
        : kind.startsWith('>')
          ? difference
          : -difference;
  // A bare zero takes the dimension of what it is compared with.
  const bound: Bound = { kind, value: { value: value.value, dimension: actual.dimension } };
  return { what: quote(turned ? test.right : test.left, place), actual, bound, margin };
}

function isComparison(operator: BinaryExpression['operator']): operator is Comparison {
  return operator in MIRRORED;
}

function isOfResults(value: Value | undefined): boolean {
  return value?.ofResults === true;
}

function quantityOf(expression: Expression | undefined, place: Place): Quantity | undefined {
  return knownQuantity(evaluateExpression(expression, place));
}
