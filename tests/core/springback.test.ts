/** Springback against the handbook's check list (section 11, rows C5 to C9, from the formulas of 3.4 and 3.6). */
import { describe, expect, it } from 'vitest';
import type { Alloy } from '#core/design';
import { curvatureLeft, overbend, plasticMomentRatio, yieldRatio } from '#core/material/springback';

const steel: Alloy = { name: 'steel', modulus: 180_000, poisson: 0.3, yield: 1500, smallestInnerRadius: 1 };
const betaTitanium: Alloy = { ...steel, name: 'beta-titanium', modulus: 69_000, yield: 930 };
const thickness = 0.4064;
const rectangle = { kind: 'rectangle', height: thickness, width: 0.5588, cornerRadius: 0 } as const;
const degrees = 180 / Math.PI;

describe('plastic bending', () => {
  it('C5: rectangle at eta 0.5', () => {
    expect(Math.abs(plasticMomentRatio('rectangle', 0.5) - 1.375)).toBeLessThan(1e-6);
    expect(Math.abs(curvatureLeft('rectangle', 0.5) - 0.3125)).toBeLessThan(1e-6);
  });

  it('C6: round at eta 0.5', () => {
    expect(Math.abs(plasticMomentRatio('round', 0.5) / 1.49366 - 1)).toBeLessThan(1e-4);
    expect(Math.abs(curvatureLeft('round', 0.5) / 0.25317 - 1)).toBeLessThan(1e-4);
  });

  it('C7: shape factors, as the fully plastic limit', () => {
    expect(Math.abs(plasticMomentRatio('rectangle', 1e-6) / 1.5 - 1)).toBeLessThan(1e-5);
    expect(Math.abs(plasticMomentRatio('round', 1e-6) / 1.69765 - 1)).toBeLessThan(1e-5);
  });

  it('is continuous where yield begins: nothing is left of an elastic bend', () => {
    for (const shape of ['rectangle', 'round'] as const) {
      expect(plasticMomentRatio(shape, 1)).toBeCloseTo(1, 12);
      expect(curvatureLeft(shape, 1 - 1e-9)).toBeCloseTo(0, 8);
      expect(curvatureLeft(shape, 1.5)).toBe(0);
    }
  });
});

describe('springback', () => {
  it('C8: rectangle 0.4064, steel, Ri 1.0', () => {
    const left = curvatureLeft('rectangle', yieldRatio(steel, thickness, 1));
    expect(Math.abs(yieldRatio(steel, thickness, 1) / 2 / 0.020505 - 1)).toBeLessThan(1e-4);
    expect(Math.abs(left / 0.938519 - 1)).toBeLessThan(1e-5);
    expect(90 / left).toBeCloseTo(95.9, 1);
  });

  it('C9: the same, round', () => {
    const left = curvatureLeft('round', yieldRatio(steel, thickness, 1));
    expect(Math.abs(left / 0.9304 - 1)).toBeLessThan(1e-3);
    expect(Math.abs(90 / left / 96.7 - 1)).toBeLessThan(1e-3);
  });

  it('gives the table of handbook 3.6 for beta-titanium, 0.017 thick', () => {
    // Four printed digits.
    for (const [radius, left] of [
      [0.5, 0.9532],
      [1, 0.9065],
      [2, 0.8137],
      [3, 0.7224],
    ]) {
      expect(curvatureLeft('rectangle', yieldRatio(betaTitanium, 0.4318, radius))).toBeCloseTo(left, 4);
    }
  });

  it('bends to the angle and radius that spring back to the wanted ones', () => {
    const wanted = { angle: Math.PI / 2, radius: 1.2 };
    const load = overbend(rectangle, steel, thickness, wanted.angle, wanted.radius);
    const left = curvatureLeft('rectangle', yieldRatio(steel, thickness, load.radius));
    expect(load.radius / left).toBeCloseTo(wanted.radius, 9);
    expect(load.angle * left).toBeCloseTo(wanted.angle, 9);
    // The same length of wire.
    expect(load.angle * load.radius).toBeCloseTo(wanted.angle * wanted.radius, 9);
    expect(load.angle * degrees).toBeGreaterThan(95.9);
    expect(overbend(rectangle, steel, thickness, 1, 0)).toEqual({ angle: 1, radius: 0 });
  });
});
