/** Section properties against the handbook's check list (rows C1-C4) and its torsion table (section 3.2). */
import { describe, expect, test } from 'vitest';
import type { Section } from '#core/design';
import { fibreStress } from '#core/material/fibre-stress';
import { sectionProperties, shearFactor, stiffness } from '#core/material/section';
import { longSideShear, rectangleTorsionFactor, shortSideShear } from '#core/material/torsion';
import { inches, rectangle, steel } from './designs';

const round = (inch: number): Section => ({ kind: 'round', diameter: inches(inch) });
const within = (value: number, expected: number, relative: number) =>
  expect(Math.abs(value / expected - 1)).toBeLessThan(relative);

describe('section properties', () => {
  test('C1: 0.016 in round', () => {
    const s = sectionProperties(round(0.016));
    within(s.inertiaSide, 1.339e-3, 1e-4);
    within(s.torsionConstant, 2.678e-3, 1e-4);
    within(s.modulusUp, 6.5896e-3, 1e-4);
  });

  test('C2: 0.017 x 0.025', () => {
    const s = sectionProperties(rectangle(0.017, 0.025));
    within(s.inertiaSide, 4.2603e-3, 1e-4);
    within(s.inertiaUp, 9.2135e-3, 1e-4);
  });

  test('C3: torsion constant of 0.016 x 0.022, series, and within 0.5 % of the polynomial (Roark)', () => {
    const { torsionConstant } = sectionProperties(rectangle(0.016, 0.022));
    within(torsionConstant, 6.9216e-3, 1e-4);
    const [A, B] = [inches(0.011), inches(0.008)];
    within(torsionConstant, A * B ** 3 * (16 / 3 - 3.36 * (B / A) * (1 - B ** 4 / (12 * A ** 4))), 5e-3);
  });

  test('C4: cross-section numbers against 0.004 round', () => {
    const s = sectionProperties(rectangle(0.016, 0.022));
    const unit = sectionProperties(round(0.004)).inertiaSide;
    within(s.inertiaSide / unit, 597.57, 1e-4);
    within(s.inertiaUp / unit, 1129.79, 1e-4);
  });

  // Handbook 3.2; agrees with the table of Timoshenko and Goodier. Four digits are given.
  test.each([
    [1, 0.1406, 0.2082],
    [1.2, 0.1661, 0.2189],
    [1.25, 0.1717, 0.2212],
    [1.5, 0.1958, 0.231],
    [1.75, 0.2143, 0.239],
    [2, 0.2287, 0.2459],
    [2.5, 0.2494, 0.2576],
    [3, 0.2633, 0.2672],
    [4, 0.2808, 0.2817],
    [5, 0.2913, 0.2915],
    [6, 0.2983, 0.2984],
    [8, 0.3071, 0.3071],
    [10, 0.3123, 0.3123],
  ])('torsion of a rectangle %f : 1', (ratio, beta, alpha) => {
    expect(Math.abs(rectangleTorsionFactor(ratio, 1) - beta)).toBeLessThan(6e-5);
    expect(Math.abs(1 / longSideShear(ratio, 1, 0) - alpha)).toBeLessThan(6e-5);
  });

  test('torsion shear is the same on all sides of a square, vanishes in its corner, and carries the torque', () => {
    within(shortSideShear(1, 1, 0), longSideShear(1, 1, 0), 2e-3);
    expect(longSideShear(1.5, 1, 1)).toBeLessThan(0.1);
    // Moment of the boundary stress function: J = 2 x volume; by Bredt's formula the mean boundary shear times
    // perimeter is 2 G theta' x area (Timoshenko and Goodier, membrane analogy).
    const mean = (shear: (along: number) => number) => {
      let sum = 0;
      for (let k = 0; k < 400; k++) sum += shear((k + 0.5) / 400);
      return sum / 400;
    };
    const [a, b] = [1.4, 1];
    const circulation = 2 * a * mean((x) => longSideShear(a, b, x)) + 2 * b * mean((x) => shortSideShear(a, b, x));
    within(circulation / (a * b * b), (2 * a * b) / (rectangleTorsionFactor(a, b) * a * b ** 3), 2e-2);
  });

  // Handbook 2.2, computed there for 0.019 x 0.025 and 0.016 x 0.022; four digits are given.
  test.each([
    [0.019, 0.025, 0.04, 0.9955, 0.9875],
    [0.019, 0.025, 0.06, 0.9899, 0.9729],
    [0.019, 0.025, 0.08, 0.9821, 0.9537],
    [0.019, 0.025, 0.1, 0.972, 0.9303],
    [0.016, 0.022, 0.06, 0.9864, 0.9643],
    [0.016, 0.022, 0.1, 0.9622, 0.9092],
  ])('rounded corners of %f x %f, %f mm', (h, w, cornerRadius, area, inertia) => {
    const sharp = sectionProperties(rectangle(h, w));
    const rounded = sectionProperties({ kind: 'rectangle', height: inches(h), width: inches(w), cornerRadius });
    expect(Math.abs(rounded.area / sharp.area - area)).toBeLessThan(6e-5);
    expect(Math.abs(rounded.inertiaSide / sharp.inertiaSide - inertia)).toBeLessThan(6e-5);
    expect(rounded.torsionConstant).toBeLessThan(sharp.torsionConstant);
    // The corners carry almost no torsion: they cost less of it than of bending.
    expect(rounded.torsionConstant / sharp.torsionConstant).toBeGreaterThan(inertia);
  });

  test('a square rounded to its half side is the circle', () => {
    const circle = sectionProperties({ kind: 'round', diameter: 0.5 });
    const square = sectionProperties({ kind: 'rectangle', height: 0.5, width: 0.5, cornerRadius: 0.25 });
    for (const key of ['area', 'inertiaSide', 'inertiaUp', 'torsionConstant', 'modulusSide'] as const) {
      within(square[key], circle[key], 1e-7);
    }
  });

  test('stiffness: E A, E I, G J, and G A with the shear factor', () => {
    const section = rectangle(0.016, 0.022);
    const k = stiffness(section, steel);
    const s = sectionProperties(section);
    within(k.EA, 180_000 * s.area, 1e-12);
    within(k.EIside, 562.612, 1e-5); // handbook 5.1
    within(k.GJ, (180_000 / 2.6) * s.torsionConstant, 1e-12);
    within(k.GA, (180_000 / 2.6) * s.area * shearFactor(section, 0.3), 1e-12);
    // Cowper 1966, for a rectangle 10 (1 + nu) / (12 + 11 nu): 5/6 at nu = 0.
    within(shearFactor(section, 0), 5 / 6, 1e-12);
    within(shearFactor(round(0.016), 0), 6 / 7, 1e-12);
  });
});

describe('fibre stress', () => {
  const section = rectangle(0.019, 0.025);
  const s = sectionProperties(section);
  const stress = fibreStress(section);

  test('bending about either axis is M / S, and both add at a corner', () => {
    within(stress(0, 0, 0, 20), 20 / 2.4649e-2, 1e-4); // S_flat of handbook 3.1
    within(stress(0, 0, 20, 0), 20 / 3.2433e-2, 1e-4); // S_edge
    within(stress(3, 0, -5, 20), 3 / s.area + 5 / s.modulusUp + 20 / s.modulusSide, 1e-12);
  });

  test('pure torsion is root 3 times T / (alpha a b²)', () => {
    within(
      stress(0, 10, 0, 0),
      (Math.sqrt(3) * 10 * longSideShear(s.width, s.height, 0)) / (s.width * s.height ** 2),
      1e-12,
    );
  });

  test('torsion is added by von Mises where bending is largest, between the two bounds', () => {
    const both = stress(0, 8, 0, 20);
    const bending = stress(0, 0, 0, 20);
    const torsion = stress(0, 8, 0, 0);
    // The middle of the long side has the largest of both.
    within(both, Math.hypot(bending, torsion), 1e-9);
    const edge = stress(0, 8, 20, 0);
    expect(edge).toBeLessThan(Math.hypot(stress(0, 0, 20, 0), torsion));
    expect(edge).toBeGreaterThan(stress(0, 0, 20, 0));
  });

  test('a rounded corner is a little nearer to the neutral axis of skew bending', () => {
    const rounded = fibreStress({ ...section, cornerRadius: 0.06 } as Section);
    const t = sectionProperties({ ...section, cornerRadius: 0.06 } as Section);
    expect(rounded(0, 0, 10, 20)).toBeLessThan(10 / t.modulusUp + 20 / t.modulusSide);
    within(rounded(0, 0, 0, 20), 20 / t.modulusSide, 1e-12);
  });

  test('round: any bending direction and torsion by von Mises', () => {
    const wire = fibreStress(round(0.018));
    const S = 9.3825e-3; // handbook 3.1
    within(wire(0, 0, 3, 4), 5 / S, 1e-4);
    within(wire(0, 6, 3, 4), Math.hypot(5 / S, (Math.sqrt(3) * 6) / (2 * S)), 1e-4);
  });
});
