/** The one formatter for numbers with units: editor, command line, preview and report all print through it. */
import { ANGLE, FORCE, isNumber, LENGTH, MOMENT, SPEED, STIFFNESS, STRESS, sameDimension, TIME } from './dimension';
import type { Quantity } from './quantity';
import { baseUnit, UNITS, unitFactor } from './unit';

export interface UnitPreferences {
  /** Forces in gf with moments in gf mm, or forces in N with moments in N mm. */
  readonly force: 'gf' | 'N';
}

export const DEFAULT_PREFERENCES: UnitPreferences = { force: 'gf' };

/** "124 gf", "6.8 mm", "15 deg", "0.83": sensible digits, no trailing zeros, never a negative zero or a non-number. */
export function formatQuantity(quantity: Quantity, preferences: UnitPreferences = DEFAULT_PREFERENCES): string {
  const style = displayStyle(quantity, preferences);
  return withUnit(formatNumber(quantity.value / style.factor, style, 0), style.unit);
}

/** "122 gf (98 .. 146)": a quantity and its band, the band in the same unit. */
export function formatBand(
  quantity: Quantity,
  { low, high }: { readonly low: number; readonly high: number },
  preferences: UnitPreferences = DEFAULT_PREFERENCES,
): string {
  const style = displayStyle(quantity, preferences);
  const [own, from, to] = [quantity.value, low, high].map((value) => formatNumber(value / style.factor, style, 0));
  return `${withUnit(own, style.unit)} (${from} .. ${to})`;
}

/**
 * Both quantities with as many digits as it takes to tell them apart, so that a value just outside
 * its bound never looks as if it were on it. Both have the same dimension.
 */
export function formatApart(
  actual: Quantity,
  bound: Quantity,
  preferences: UnitPreferences = DEFAULT_PREFERENCES,
): readonly [actual: string, bound: string] {
  const style = displayStyle(Math.abs(bound.value) > Math.abs(actual.value) ? bound : actual, preferences);
  const write = (quantity: Quantity, extra: number) => formatNumber(quantity.value / style.factor, style, extra);
  let extra = 0;
  while (actual.value !== bound.value && write(actual, extra) === write(bound, extra) && extra < 15) extra += 1;
  return [withUnit(write(actual, extra), style.unit), withUnit(write(bound, extra), style.unit)];
}

/** The unit words in which a quantity is shown, "" for a plain number. */
export function displayUnit(quantity: Quantity, preferences: UnitPreferences = DEFAULT_PREFERENCES): string {
  return displayStyle(quantity, preferences).unit;
}

interface Style {
  readonly unit: string;
  /** Of the unit, to mm, N, s, rad. */
  readonly factor: number;
  readonly significant: number;
  readonly decimals: number;
}

function displayStyle(quantity: Quantity, preferences: UnitPreferences): Style {
  const { dimension } = quantity;
  const gram = preferences.force === 'gf';
  const style = (unit: string, significant: number, decimals: number): Style => ({
    unit,
    factor: unitFactor(unit),
    significant,
    decimals,
  });
  if (isNumber(dimension)) return style('', 3, 4);
  if (sameDimension(dimension, LENGTH)) return style('mm', 4, 3);
  if (sameDimension(dimension, ANGLE)) return style('deg', 4, 2);
  if (sameDimension(dimension, FORCE)) return gram ? style('gf', 3, 1) : style('N', 3, 3);
  if (sameDimension(dimension, MOMENT)) return gram ? style('gf mm', 3, 0) : style('N mm', 3, 2);
  if (sameDimension(dimension, STIFFNESS)) return gram ? style('gf/mm', 3, 1) : style('N/mm', 3, 3);
  if (sameDimension(dimension, STRESS)) {
    const size = Math.abs(quantity.value);
    if (size < 0.1 && size > 0) return style('kPa', 3, 2);
    return size >= 10_000 ? style('GPa', 3, 1) : style('MPa', 3, 1);
  }
  if (sameDimension(dimension, TIME)) return style(timeUnit(quantity.value), 3, 1);
  if (sameDimension(dimension, SPEED)) return style('mm/month', 3, 2);
  return style(baseUnit(dimension), 4, 6);
}

/** Visits are counted in weeks, treatment in months. */
function timeUnit(seconds: number): string {
  const amount = Math.abs(seconds);
  const fitting = (['months', 'weeks', 'days', 'h', 'min'] as const).find((word) => {
    const least = word === 'months' ? 3 : 1;
    return amount >= least * (UNITS.get(word)?.factor ?? Number.POSITIVE_INFINITY);
  });
  return fitting ?? 's';
}

function formatNumber(value: number, style: Style, extra: number): string {
  if (!Number.isFinite(value)) return '–';
  if (value === 0) return '0';
  const magnitude = Math.floor(Math.log10(Math.abs(value)));
  const decimals = Math.max(0, Math.min(style.decimals, style.significant - 1 - magnitude)) + extra;
  const text = value.toFixed(Math.min(decimals, 20));
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}

function withUnit(number: string, unit: string): string {
  return unit === '' ? number : `${number} ${unit}`;
}
