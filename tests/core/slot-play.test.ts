/** Clearance in slots against the handbook's check list (section 11, rows C44 to C47, formulas of 2.3 and 2.4). */
import { describe, expect, it } from 'vitest';
import { secondOrderClearance, thirdOrderPlay } from '#core/material/slot-play';

const inch = 25.4;
const degrees = 180 / Math.PI;
const wire = (height: number, width: number, cornerRadius: number) =>
  ({ kind: 'rectangle', height: height * inch, width: width * inch, cornerRadius }) as const;
const play = (section: ReturnType<typeof wire>, slotHeight: number) =>
  (thirdOrderPlay(section, slotHeight) as number) * degrees;

describe('third-order play, one-sided', () => {
  it('C44: 0.019 x 0.025 in 0.022', () => {
    expect(Math.abs(play(wire(0.019, 0.025, 0), 0.022 * inch) - 7.24)).toBeLessThan(0.01);
    expect(Math.abs(play(wire(0.019, 0.025, 0.06), 0.022 * inch) - 9.01)).toBeLessThan(0.01);
  });

  it('C45: 0.017 x 0.025 in 0.018', () => {
    expect(Math.abs(play(wire(0.017, 0.025, 0), 0.018 * inch) - 2.32)).toBeLessThan(0.01);
  });

  it('C46: 0.016 x 0.022 in a measured slot of 0.476 mm, r 0.05 mm', () => {
    const half = play(wire(0.016, 0.022, 0.05), 0.476);
    expect(Math.abs(half - 9.23)).toBeLessThan(0.01);
    expect(Math.abs(2 * half - 18.45)).toBeLessThan(0.02);
  });

  it('has none where the wire fills the slot, and no end where the wire turns freely', () => {
    expect(play(wire(0.018, 0.025, 0), 0.018 * inch)).toBeCloseTo(0, 6);
    expect(thirdOrderPlay(wire(0.014, 0.014, 0), 0.022 * inch)).toBe('free');
    expect(thirdOrderPlay({ kind: 'round', diameter: 0.4 }, 0.5)).toBe('free');
    expect(thirdOrderPlay(wire(0.021, 0.025, 0), 0.018 * inch)).toBeUndefined();
  });
});

describe('second-order clearance', () => {
  it('C47: 0.014 in 0.022, 0.125 in wide', () => {
    const exact = secondOrderClearance(0.014 * inch, 0.022 * inch, 0.125 * inch)! * degrees;
    expect(Math.abs(exact - 3.649)).toBeLessThan(0.01);
  });

  it('gives the exact column of handbook 2.4', () => {
    for (const [height, slot, width, exact] of [
      [0.016, 0.022, 0.125, 2.74],
      [0.019, 0.022, 0.125, 1.372],
      [0.017, 0.018, 0.125, 0.458],
      [0.019, 0.022, 0.06, 2.84],
    ]) {
      const angle = secondOrderClearance(height * inch, slot * inch, width * inch)! * degrees;
      // Three printed decimals, and 3.18 mm and 1.52 mm for the widths: two parts in a thousand.
      expect(Math.abs(angle / exact - 1)).toBeLessThan(2e-3);
    }
    expect(secondOrderClearance(0.5, 0.4, 3)).toBeUndefined();
  });
});
