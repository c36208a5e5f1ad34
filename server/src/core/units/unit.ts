/**
 * The unit words of the language and their exact factors to mm, N, s and rad.
 *
 * Sources: the inch is 25.4 mm and the gram-force 0.00980665 N exactly (handbook 0; conventional
 * value of gravity 9.80665 m/s², third General Conference on Weights and Measures, 1901); the month is a
 * twelfth of the Julian year of 365.25 days, as in the Unified Code for Units of Measure.
 */
import { ANGLE, divide, FORCE, LENGTH, multiply, NUMBER, power, STRESS, TIME } from './dimension';
import type { Dimension, Quantity } from './quantity';

export interface Unit {
  readonly word: string;
  /** What the word stands for. */
  readonly meaning: string;
  /** Value of one unit in mm, N, s, rad and their products. */
  readonly factor: number;
  readonly dimension: Dimension;
}

const DAY = 86_400;

export const UNITS: ReadonlyMap<string, Unit> = new Map(
  (
    [
      ['mm', 'millimetre', 1, LENGTH],
      ['cm', 'centimetre, 10 mm', 10, LENGTH],
      ['m', 'metre, 1000 mm', 1000, LENGTH],
      ['in', 'inch, 25.4 mm exactly', 25.4, LENGTH],
      ['deg', 'degree of angle', Math.PI / 180, ANGLE],
      ['rad', 'radian', 1, ANGLE],
      ['N', 'newton', 1, FORCE],
      ['cN', 'centinewton, 0.01 N', 0.01, FORCE],
      ['mN', 'millinewton, 0.001 N', 0.001, FORCE],
      ['gf', 'gram-force, 0.00980665 N exactly (the trade writes "g")', 0.00980665, FORCE],
      ['kgf', 'kilogram-force, 9.80665 N exactly', 9.80665, FORCE],
      ['MPa', 'megapascal, N/mm²', 1, STRESS],
      ['GPa', 'gigapascal, 1000 MPa', 1000, STRESS],
      ['kPa', 'kilopascal, 0.001 MPa', 1e-3, STRESS],
      ['Pa', 'pascal, N/m²', 1e-6, STRESS],
      ['%', 'per cent, 0.01', 0.01, NUMBER],
      ['s', 'second', 1, TIME],
      ['min', 'minute, 60 s', 60, TIME],
      ['h', 'hour, 3600 s', 3600, TIME],
      ['day', 'day of 24 hours', DAY, TIME],
      ['days', 'day of 24 hours', DAY, TIME],
      ['week', 'week of 7 days', 7 * DAY, TIME],
      ['weeks', 'week of 7 days', 7 * DAY, TIME],
      ['month', 'month, a twelfth of 365.25 days', (365.25 / 12) * DAY, TIME],
      ['months', 'month, a twelfth of 365.25 days', (365.25 / 12) * DAY, TIME],
    ] as const
  ).map(([word, meaning, factor, dimension]) => [word, { word, meaning, factor, dimension }]),
);

/** A product of unit words over another, or the first word that is not a unit. */
export function compoundUnit(
  numerator: readonly string[],
  denominator: readonly string[],
): { readonly factor: number; readonly dimension: Dimension } | { readonly unknown: string } {
  let factor = 1;
  let dimension = NUMBER;
  for (const word of numerator) {
    const unit = UNITS.get(word);
    if (!unit) return { unknown: word };
    factor *= unit.factor;
    dimension = multiply(dimension, unit.dimension);
  }
  for (const word of denominator) {
    const unit = UNITS.get(word);
    if (!unit) return { unknown: word };
    factor /= unit.factor;
    dimension = divide(dimension, unit.dimension);
  }
  return { factor, dimension };
}

/** Value of the quantity counted in the given unit words ("gf mm", "N/mm", "mm^2"); the caller sees to equal dimensions. */
export function valueIn(quantity: Quantity, unit: string): number {
  return quantity.value / unitFactor(unit);
}

/** Factor of a unit text to mm, N, s, rad. */
export function unitFactor(unit: string): number {
  const [numerator, denominator] = unit.split('/');
  const product = (side: string | undefined) =>
    (side ?? '').split(' ').reduce((factor, word) => {
      const [name, exponent] = word.split('^');
      const known = UNITS.get(name);
      return known ? factor * known.factor ** Number(exponent ?? 1) : factor;
    }, 1);
  return product(numerator) / product(denominator);
}

/** The unit text in which a dimension is written by default in the language ("mm", "N mm", "N/mm"). */
export function baseUnit(dimension: Dimension): string {
  const words = [
    ['N', dimension.force],
    ['mm', dimension.length],
    ['s', dimension.time],
    ['rad', dimension.angle],
  ] as const;
  const write = (word: string, exponent: number) => (exponent === 1 ? word : `${word}^${exponent}`);
  const over = words.filter(([, exponent]) => exponent > 0).map(([word, exponent]) => write(word, exponent));
  const under = words.filter(([, exponent]) => exponent < 0).map(([word, exponent]) => write(word, -exponent));
  if (over.length === 0 && under.length === 0) return '';
  return `${over.length > 0 ? over.join(' ') : '1'}${under.length > 0 ? `/${under.join(' ')}` : ''}`;
}

export function quantity(value: number, unit: Pick<Unit, 'factor' | 'dimension'>): Quantity {
  return { value: value * unit.factor, dimension: unit.dimension };
}

/** The quantity raised to a whole or broken power. */
export function quantityPower(base: Quantity, exponent: number): Quantity {
  return { value: base.value ** exponent, dimension: power(base.dimension, exponent) };
}
