/** Numbers of a report as people read them, through the one formatter. */
import { ANGLE, FORCE, LENGTH, MOMENT, STRESS } from '#core/units/dimension';
import { displayUnit, formatQuantity, type UnitPreferences } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';

export const dimensions = { length: LENGTH, force: FORCE, moment: MOMENT, stress: STRESS } as const;

/** mm, N, N mm or MPa, written with its unit. */
export function amount(value: number, kind: keyof typeof dimensions, units?: UnitPreferences): string {
  return formatQuantity({ value, dimension: dimensions[kind] }, units);
}

/** The same for columns whose heading names the unit. */
export function bareAmount(value: number, kind: keyof typeof dimensions, units?: UnitPreferences): string {
  return bare(value, dimensions[kind], units);
}

export function unitOf(kind: keyof typeof dimensions, units?: UnitPreferences): string {
  return displayUnit({ value: 0, dimension: dimensions[kind] }, units);
}

export function degrees(value: number): string {
  return formatQuantity({ value: (value * Math.PI) / 180, dimension: ANGLE });
}

/** "83 %" of 0.83; rounding never moves a value onto the limit or across it. */
export function percent(part: number): string {
  const whole = Math.round(part * 100);
  if (whole === 100 && part !== 1) return part > 1 ? '> 100 %' : '< 100 %';
  return `${whole} %`;
}

function bare(value: number, dimension: Dimension, units?: UnitPreferences): string {
  const quantity = { value, dimension };
  const unit = displayUnit(quantity, units);
  return formatQuantity(quantity, units).slice(0, unit === '' ? undefined : -unit.length - 1);
}
