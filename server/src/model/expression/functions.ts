/** The language's functions. */
import { ANGLE, LENGTH, NUMBER, power } from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';
import type { CallExpression } from '#grammar/tree';
import { argumentCount } from '../diagnostics/argument-count';
import { notComputable } from '../diagnostics/not-computable';
import { quantityExpected } from '../diagnostics/quantity-expected';
import { unknownName } from '../diagnostics/unknown-name';
import { nearest } from '../names/nearest';
import { bareNumber, expectDimension } from './mismatch';
import { type Place, quote } from './place';
import { type QuantityValue, quantityValue, type Value } from './value';

interface FunctionEntry {
  /** Dimensions of its values; undefined for one of any kind. */
  readonly takes: readonly (Dimension | undefined)[] | 'several';
  /** Dimension of the result from that of the first value. */
  yields(first: Dimension): Dimension;
  compute(...values: number[]): number;
  readonly documentation: string;
}

const trigonometric = (compute: (angle: number) => number, documentation: string): FunctionEntry => ({
  takes: [ANGLE],
  yields: () => NUMBER,
  compute,
  documentation,
});

const inverse = (compute: (ratio: number) => number, documentation: string): FunctionEntry => ({
  takes: [NUMBER],
  yields: () => ANGLE,
  compute,
  documentation,
});

export const FUNCTIONS: ReadonlyMap<string, FunctionEntry> = new Map<string, FunctionEntry>([
  [
    'min',
    { takes: 'several', yields: (first) => first, compute: Math.min, documentation: 'The smallest of its values.' },
  ],
  [
    'max',
    { takes: 'several', yields: (first) => first, compute: Math.max, documentation: 'The largest of its values.' },
  ],
  [
    'abs',
    { takes: [undefined], yields: (first) => first, compute: Math.abs, documentation: 'The value without its sign.' },
  ],
  [
    'sqrt',
    { takes: [undefined], yields: (first) => power(first, 0.5), compute: Math.sqrt, documentation: 'The square root.' },
  ],
  ['sin', trigonometric(Math.sin, 'Sine of an angle.')],
  ['cos', trigonometric(Math.cos, 'Cosine of an angle.')],
  ['tan', trigonometric(Math.tan, 'Tangent of an angle.')],
  ['asin', inverse(Math.asin, 'The angle whose sine this is.')],
  ['acos', inverse(Math.acos, 'The angle whose cosine this is.')],
  ['atan', inverse(Math.atan, 'The angle whose tangent this is.')],
  [
    'arc',
    {
      takes: [LENGTH, ANGLE],
      yields: () => LENGTH,
      compute: (radius, angle) => radius * angle,
      documentation: 'Length of an arc: arc(radius, angle).',
    },
  ],
]);

export function applyFunction(
  expression: CallExpression,
  values: readonly (Value | undefined)[],
  place: Place,
): QuantityValue | undefined {
  const { name } = expression;
  const entry = FUNCTIONS.get(name.text);
  if (!entry) {
    const known = [...FUNCTIONS.keys()];
    place.recorder.problem(unknownName.at(name.span, 'function', name.text, known, nearest(name.text, known)));
    return undefined;
  }
  const count = expression.arguments.length;
  const rightCount = entry.takes === 'several' ? count > 0 : count === entry.takes.length;
  if (!rightCount) {
    const expected =
      entry.takes === 'several'
        ? 'at least one value'
        : entry.takes.length === 1
          ? 'one value'
          : 'a radius and an angle';
    place.recorder.problem(argumentCount.at(expression.span, name.text, expected, count));
    return undefined;
  }
  const taken = takeArguments(expression, entry, values, place);
  if (!taken) return undefined;
  const dimension = entry.yields(taken[0].dimension);
  const ofResults = taken.some((value) => value.ofResults);
  if (taken.some((value) => value.value === undefined)) return quantityValue(undefined, dimension, ofResults);
  const result = entry.compute(...taken.map((value) => value.value as number));
  if (!Number.isFinite(result)) {
    place.recorder.problem(notComputable.at(expression.span, `"${quote(expression, place)}" has no value.`));
    return undefined;
  }
  return quantityValue(result, dimension, ofResults);
}

function takeArguments(
  expression: CallExpression,
  entry: FunctionEntry,
  values: readonly (Value | undefined)[],
  place: Place,
): readonly QuantityValue[] | undefined {
  const taken: QuantityValue[] = [];
  // Of several values the first that says its kind does so for all: in max(0, height) it is the second.
  const common = entry.takes === 'several' ? kindOfSeveral(expression, values) : undefined;
  for (const [index, argument] of expression.arguments.entries()) {
    const value = values[index];
    if (!argument || !value) return undefined;
    const expected = entry.takes === 'several' ? common : entry.takes[index];
    const what = `What ${expression.name.text} takes`;
    const quantity = expected ? expectDimension(argument, value, expected, what, place) : value;
    if (quantity?.kind === 'truth') place.recorder.problem(quantityExpected.at(argument.span, what));
    if (quantity?.kind !== 'quantity') return undefined;
    taken.push(quantity);
  }
  return taken.length > 0 ? taken : undefined;
}

function kindOfSeveral(expression: CallExpression, values: readonly (Value | undefined)[]): Dimension | undefined {
  const quantities = values.map((value) => (value?.kind === 'quantity' ? value : undefined));
  const telling = quantities.find((value, index) => value && !bareNumber(expression.arguments[index]));
  return (telling ?? quantities.find((value) => value !== undefined))?.dimension;
}
