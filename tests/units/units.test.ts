import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dimensionName, MOMENT, multiply, sameDimension } from '#core/units/dimension';
import { DEFAULT_PREFERENCES, formatApart, formatQuantity } from '#core/units/format';
import { baseUnit, compoundUnit, UNITS, unitFactor, valueIn } from '#core/units/unit';
import { unitWords } from '#grammar/words';

function of(value: number, unit: string) {
  const [over, under] = unit.split('/');
  const compound = compoundUnit(over.split(' '), under ? under.split(' ') : []);
  if ('unknown' in compound) throw new Error(compound.unknown);
  return { value: value * compound.factor, dimension: compound.dimension };
}

describe('units', () => {
  it('agrees with the published conversions (handbook 0 and C58, exact definitions)', () => {
    expect(of(350, 'gf').value).toBeCloseTo(3.4323275, 6);
    expect(of(0.017, 'in').value).toBeCloseTo(0.4318, 9);
    expect(of(1500, 'gf mm').value).toBeCloseTo(14.709975, 6);
    expect(valueIn(of(1, 'N'), 'gf')).toBeCloseTo(101.9716, 4);
    expect(valueIn(of(1, 'cN'), 'gf')).toBeCloseTo(1.01972, 5);
    expect(of(1, 'GPa').value).toBe(1000);
  });

  it('goes there and back for every unit word', () => {
    fc.assert(
      fc.property(fc.constantFrom(...UNITS.keys()), fc.double({ min: -1e6, max: 1e6, noNaN: true }), (word, number) => {
        const back = valueIn(of(number, word), word);
        expect(Math.abs(back - number)).toBeLessThanOrEqual(1e-12 * Math.abs(number) + 1e-300); // subnormal numbers lose digits
      }),
    );
  });

  it('keeps moment, energy and force apart', () => {
    const energy = multiply(MOMENT, of(1, 'rad').dimension);
    expect(sameDimension(energy, MOMENT)).toBe(false);
    expect(dimensionName(MOMENT)).toBe('moment');
    expect(dimensionName(of(1, 'N/mm').dimension)).toBe('stiffness (force per length)');
    expect(dimensionName(of(1, 'mm mm mm').dimension)).toBe('length^3');
    expect(baseUnit(of(1, 'N/mm').dimension)).toBe('N/mm');
    expect(unitFactor('gf/mm')).toBeCloseTo(0.00980665, 12);
  });

  it('knows exactly the unit words of the grammar', () => {
    expect(new Set(UNITS.keys())).toEqual(new Set(Object.values(unitWords).flat()));
  });

  it('names a word that is not a unit', () => {
    expect(compoundUnit(['N', 'furlong'], [])).toEqual({ unknown: 'furlong' });
  });
});

describe('formatting', () => {
  it('prints trade units with sensible digits', () => {
    expect(formatQuantity(of(124.4, 'gf'))).toBe('124 gf');
    expect(formatQuantity(of(124.4, 'gf'), { force: 'N' })).toBe('1.22 N');
    expect(formatQuantity(of(2.8, 'N mm'), { force: 'N' })).toBe('2.8 N mm');
    expect(formatQuantity(of(285.6, 'gf mm'))).toBe('286 gf mm');
    expect(formatQuantity(of(0.017, 'in'))).toBe('0.432 mm');
    expect(formatQuantity(of(53.2832, 'mm'))).toBe('53.28 mm');
    expect(formatQuantity(of(15, 'deg'))).toBe('15 deg');
    expect(formatQuantity(of(66, 'GPa'))).toBe('66 GPa');
    expect(formatQuantity(of(6, 'weeks'))).toBe('6 weeks');
    expect(formatQuantity(of(-0.00001, 'mm'))).toBe('0 mm');
    expect(formatQuantity({ value: Number.NaN, dimension: MOMENT })).toBe('– gf mm');
  });

  it('adds digits until a value and its bound are told apart', () => {
    expect(formatApart(of(100.4, 'gf'), of(100, 'gf'))).toEqual(['100.4 gf', '100 gf']);
    expect(formatApart(of(149.9999, 'gf'), of(150, 'gf'))).toEqual(['149.9999 gf', '150 gf']);
    expect(formatApart(of(90, 'gf'), of(100, 'gf'))).toEqual(['90 gf', '100 gf']);
  });

  it('never shows two different values as one', () => {
    const force = fc.double({ min: -1e3, max: 1e3, noNaN: true });
    fc.assert(
      fc.property(force, fc.double({ min: 1e-9, max: 1, noNaN: true }), (value, difference) => {
        const other = value + difference;
        fc.pre(Math.abs(other - value) > 1e-10);
        const [a, b] = formatApart(of(value, 'gf'), of(other, 'gf'), DEFAULT_PREFERENCES);
        expect(a).not.toBe(b);
      }),
    );
  });
});
