/** Arch forms against handbook section 7.4 (rows C52 and C53), and the arcs they are laid out by against the forms. */
import { describe, expect, it } from 'vitest';
import { ARCH_TOLERANCE, archArcs, headingAt, placeAlong } from '#core/geometry/arch-arcs';
import { type ArchForm, betaArch, catenaryArch, catenaryParameter } from '#core/geometry/arch-form';

/** Anterior at a place left of the midline, by halving. */
function anteriorAt(form: ArchForm, left: number): number {
  let [low, high] = [0, form.half];
  for (let k = 0; k < 80; k++) {
    const middle = (low + high) / 2;
    if (form.pointAt(middle)[0] < left) low = middle;
    else high = middle;
  }
  return form.pointAt(low)[1];
}

describe('arch forms', () => {
  // C52: relative tolerance 1e-3 as the row states it.
  it('beta function of width 55 and depth 40', () => {
    const form = betaArch(55, 40);
    for (const [left, anterior] of [
      [0, 40],
      [10, 35.709],
      [20, 21.904],
      [25, 9.854],
    ]) {
      expect(Math.abs(anteriorAt(form, left) / anterior - 1)).toBeLessThan(1e-3);
    }
    expect(Math.abs((2 * form.half) / 103.02 - 1)).toBeLessThan(1e-3);
  });

  // C53: relative tolerance 1e-4.
  it('catenary of width 50 and depth 35', () => {
    expect(Math.abs(catenaryParameter(50, 35) / 12.3963 - 1)).toBeLessThan(1e-4);
    expect(Math.abs((2 * catenaryArch(50, 35).half) / 91.493 - 1)).toBeLessThan(1e-4);
    expect(catenaryArch(50, 35).pointAt(catenaryArch(50, 35).half)[0]).toBeCloseTo(25, 9);
    expect(catenaryArch(50, 35).pointAt(catenaryArch(50, 35).half)[1]).toBeCloseTo(0, 9);
  });
});

describe('arcs along arch forms', () => {
  const forms: Record<string, ArchForm> = {
    'beta 55 × 40': betaArch(55, 40),
    'beta 48 × 30': betaArch(48, 30),
    'beta 65 × 55': betaArch(65, 55),
    'catenary 50 × 35': catenaryArch(50, 35),
    'catenary 60 × 25': catenaryArch(60, 25),
  };
  for (const [name, form] of Object.entries(forms)) {
    for (const reach of [1, 0.9, 0.5]) {
      for (const sense of [1, -1]) {
        it(`${name}, ${reach} of each half, ${sense > 0 ? 'toward left' : 'toward right'}: place and length within 0.01 mm`, () => {
          const [from, to] = [-sense * reach * form.half, sense * reach * form.half];
          const arcs = archArcs(form, from, to);
          const length = arcs.reduce((sum, arc) => sum + arc.length, 0);
          expect(Math.abs(length - Math.abs(to - from))).toBeLessThan(ARCH_TOLERANCE);
          const start = headingAt(form, from, sense < 0);
          let worst = 0;
          for (let k = 0; k <= 400; k++) {
            const place = placeAlong(start, arcs, (length * k) / 400);
            const meant = form.pointAt(from + ((to - from) * k) / 400);
            worst = Math.max(worst, Math.hypot(place[0] - meant[0], place[1] - meant[1]));
          }
          expect(worst).toBeLessThan(ARCH_TOLERANCE);
          // Within the least that a file can hold many times over (LIMITS.elements).
          expect(arcs.length).toBeLessThan(100);
        });
      }
    }
  }
});
