/** Algebra and names of dimensions. */
import type { Dimension } from './quantity';

export const NUMBER: Dimension = { length: 0, force: 0, time: 0, angle: 0 };
export const LENGTH: Dimension = { ...NUMBER, length: 1 };
export const FORCE: Dimension = { ...NUMBER, force: 1 };
export const AREA: Dimension = { ...NUMBER, length: 2 };
export const TIME: Dimension = { ...NUMBER, time: 1 };
export const SPEED: Dimension = { ...NUMBER, length: 1, time: -1 };
export const ANGLE: Dimension = { ...NUMBER, angle: 1 };
export const MOMENT: Dimension = { ...NUMBER, force: 1, length: 1 };
export const STRESS: Dimension = { ...NUMBER, force: 1, length: -2 };
export const STIFFNESS: Dimension = { ...NUMBER, force: 1, length: -1 };

export function multiply(a: Dimension, b: Dimension): Dimension {
  return {
    length: a.length + b.length,
    force: a.force + b.force,
    time: a.time + b.time,
    angle: a.angle + b.angle,
  };
}

export function divide(a: Dimension, b: Dimension): Dimension {
  return multiply(a, power(b, -1));
}

export function power(a: Dimension, exponent: number): Dimension {
  // `+ 0` turns a negative zero into zero, so that equal dimensions are equal records.
  return {
    length: a.length * exponent + 0,
    force: a.force * exponent + 0,
    time: a.time * exponent + 0,
    angle: a.angle * exponent + 0,
  };
}

export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.length === b.length && a.force === b.force && a.time === b.time && a.angle === b.angle;
}

export function isNumber(a: Dimension): boolean {
  return sameDimension(a, NUMBER);
}

/** The dimension as the trade calls it, with its article: "a length", "a moment", "a length × angle". */
export function dimensionPhrase(dimension: Dimension): string {
  const name = dimensionName(dimension);
  return `${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name}`;
}

/** "length", "moment", "stiffness (force per length)", …; a product of base kinds where there is no usual word. */
export function dimensionName(dimension: Dimension): string {
  const known = NAMES.find(([candidate]) => sameDimension(candidate, dimension));
  return known ? known[1] : productName(dimension);
}

const NAMES: readonly (readonly [Dimension, string])[] = [
  [NUMBER, 'plain number'],
  [LENGTH, 'length'],
  [FORCE, 'force'],
  [TIME, 'time'],
  [ANGLE, 'angle'],
  [MOMENT, 'moment'],
  [STRESS, 'stress'],
  [STIFFNESS, 'stiffness (force per length)'],
  [AREA, 'area'],
  [{ ...NUMBER, force: 1, length: 1, angle: 1 }, 'energy (moment × angle)'],
  [{ ...NUMBER, force: 1, length: 1, angle: -1 }, 'bending stiffness (moment per angle)'],
  [{ ...NUMBER, force: 1, length: 2 }, 'flexural rigidity (force × area)'],
  [SPEED, 'speed'],
  [{ ...NUMBER, length: -1 }, 'number per length'],
];

function productName(dimension: Dimension): string {
  const kinds = (['force', 'length', 'time', 'angle'] as const).filter((kind) => dimension[kind] !== 0);
  const factor = (kind: (typeof kinds)[number], exponent: number) => (exponent === 1 ? kind : `${kind}^${exponent}`);
  const over = kinds.filter((kind) => dimension[kind] > 0).map((kind) => factor(kind, dimension[kind]));
  const under = kinds.filter((kind) => dimension[kind] < 0).map((kind) => factor(kind, -dimension[kind]));
  const numerator = over.length > 0 ? over.join(' × ') : 'number';
  return under.length > 0 ? `${numerator} per ${under.join(' and ')}` : numerator;
}
