/**
 * Seeded random designs: each is solved at every stage or names a cause, and each cause is confirmed from the geometry
 * alone, without the solver.
 */
import { expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { Failure } from '#core/analysis/analysis';
import type { ApplianceDesign, Section, WireElement } from '#core/design';
import { norm } from '#core/math/vector';
import { bend, betaTitanium, design, preactivate, radians, rectangle, steel, straight } from './designs';

const quarter = Math.PI / 2;
const wires: readonly (readonly [Section, typeof steel])[] = [
  [rectangle(0.019, 0.025), betaTitanium],
  [rectangle(0.017, 0.025), betaTitanium],
  [{ kind: 'round', diameter: 0.4064 }, steel],
];

test('300 seeded random loops: heights 4-10, gables and V bends 0-60°, spans 8-25, bends in space ±30°', () => {
  const random = generator(20240607);
  const causes = new Map<string, number>();
  let stages = 0;
  for (let k = 0; k < 300; k++) {
    const given = randomLoop(random);
    const result = analyseAppliance(given);
    expect(result.failure === undefined || confirmed(given, result.failure, 0)).toBe(true);
    for (const { state, failure } of result.stages) {
      if (failure) {
        causes.set(failure.reason, (causes.get(failure.reason) ?? 0) + 1);
        expect(confirmed(given, failure, result.neutral!.motion)).toBe(true);
        continue;
      }
      stages++;
      expect(allFinite(state)).toBe(true);
      // Default setting: unbalanced forces below 1e-4 of the largest moment over the span's size, about 10 mm.
      const moment = Math.max(...state!.wrenches.map((wrench) => norm(wrench.moment)));
      expect(state!.residual.moment).toBeLessThan(1e-4 * Math.max(moment, 1));
    }
  }
  expect(stages).toBeGreaterThan(300 * 13 * 0.9);
  expect([...causes.keys()].every((cause) => cause === 'bend-in-slot' || cause === 'wire-end')).toBe(true);
});

/** Mulberry32: a small public-domain generator. */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const TAIL = 14;
const TUBE = 4;

function randomLoop(random: () => number): ApplianceDesign {
  const within = (low: number, high: number) => low + (high - low) * random();
  const turn = (low: number, high: number) => radians(within(low, high));
  const [height, width, radius, span] = [within(4, 10), within(1, 3), within(0.5, 1), within(8, 25)];
  const arms = span - width - 2 * radius;
  const left = arms * within(0.2, 0.8);
  const right = arms - left;
  const vBend = left * within(0.1, 0.9);
  const leg = straight(height - radius - width / 2);
  const [section, alloy] = wires[Math.floor(random() * 3)];
  const elements: readonly WireElement[] = [
    straight(TAIL),
    straight(vBend),
    preactivate([0, 0, turn(0, 60)]),
    preactivate([0, turn(-30, 30), 0]),
    straight(left - vBend),
    preactivate([0, 0, turn(0, 60)]),
    bend(quarter, radius),
    leg,
    bend(-Math.PI, width / 2),
    leg,
    bend(quarter, radius),
    preactivate([0, 0, turn(0, 60)]),
    preactivate([0, turn(-30, 30), 0]),
    straight(right / 2),
    preactivate([turn(-30, 30), 0, 0]),
    straight(right / 2),
    straight(3),
  ];
  const total = elements.reduce((sum, e) => sum + e.length, 0);
  return design(
    elements,
    [
      { station: TAIL - TUBE / 2, fitting: 'tube', length: TUBE },
      { station: total - 1.5, length: 3 },
    ],
    section,
    alloy,
    {
      motion: { kind: 'pull', attachment: 0 },
      stages: [-1, -0.5, 0, 0.5, 1, 1.5, 2, 2.5, 3, 3.25, 3.5, 3.75, 4],
    },
  );
}

/** By the lengths of the arms alone: the first bend stands `elements[1].length` from the tube, the tail is 10 mm. */
function confirmed(given: ApplianceDesign, failure: Failure, neutral: number): boolean {
  if (failure.reason === 'bend-in-slot') {
    return failure.element === 2 && Math.abs(neutral + failure.motion - given.elements[1].length) < 1e-6;
  }
  if (failure.reason === 'wire-end') return Math.abs(neutral + failure.motion + (TAIL - TUBE)) < 1e-6;
  return false;
}

function allFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (Array.isArray(value)) return value.every(allFinite);
  if (value && typeof value === 'object') return Object.values(value).every(allFinite);
  return value !== undefined;
}
