/** A wire that slides through one of its two attachments, against its energy and the configurational force. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { EngagedState } from '#core/analysis/analysis';
import type { Activation, ApplianceDesign } from '#core/design';
import { design, preactivate, radians, rectangle, steel, straight } from './designs';

const section = rectangle(0.016, 0.022);
const EI = steel.modulus * ((0.022 * 25.4 * (0.016 * 25.4) ** 3) / 12);
const options = { mesh: 'strict', compliance: 'bending-only', yielding: 'elastic' } as const;

/** A V bend 2 mm from the first of two attachments 12 mm apart. */
function vBend(degrees: number, sliding: 0 | 1 | undefined, activation?: Activation): ApplianceDesign {
  return design(
    [straight(5), preactivate([0, 0, radians(degrees)]), straight(14)],
    [
      { station: 3, lengthwise: sliding === 0 ? 'sliding' : 'held' },
      { station: 15, lengthwise: sliding === 1 ? 'sliding' : 'held' },
    ],
    section,
    steel,
    activation,
  );
}

/** Strain energy, N mm, of the V bend's wire, integrated anew from the force and moment at its first attachment alone. */
function energy({ wrenches, motion }: EngagedState, degrees: number): number {
  const [n, m] = [wrenches[0].force, wrenches[0].moment];
  let [x, y, turn, sum] = [0, 0, 0, 0];
  for (const [length, bend] of [
    [2, radians(degrees)],
    [10 - motion, 0],
  ]) {
    const steps = 2000;
    const h = length / steps;
    for (let k = 0; k < steps; k++) {
      // Midpoint rule; its error, of h², is one in a million.
      const half = (m[2] - x * n[1] + y * n[0]) / EI;
      const middle = turn + (half * h) / 2;
      const moment = m[2] - (x + (h / 2) * Math.cos(turn)) * n[1] + (y + (h / 2) * Math.sin(turn)) * n[0];
      x += h * Math.cos(middle);
      y += h * Math.sin(middle);
      turn += (h * moment) / EI;
      sum += (h * moment ** 2) / (2 * EI);
    }
    turn += bend;
  }
  return sum;
}

describe('a wire that slides through one of two attachments', () => {
  test.each([30, -30, 45])('stops where its energy is stationary in the slid length: V bend of %d deg', (degrees) => {
    const step = 1e-4;
    const analysis = analyseAppliance(vBend(degrees, 1), { ...options, extraActivations: [-step, step] });
    expect(analysis.failure).toBeUndefined();
    const [at, before, after] = analysis.stages.map(({ state }) => state!);
    const [moment] = [at.wrenches[1].moment[2]];
    // The configurational force that would be left out: m²/2EI at the sliding slot.
    const configurational = moment ** 2 / (2 * EI);
    const [low, middle, high] = [before, at, after].map((state) => energy(state, degrees));
    const curvature = (low - 2 * middle + high) / step ** 2;
    // Stationary within 5e-5 mm of slid wire, the solver notes' own figure; without the configurational force it is not.
    expect(Math.abs((high - low) / (2 * step))).toBeLessThan(5e-5 * curvature);
    expect(configurational).toBeGreaterThan(2 * 5e-5 * curvature);
    // Solver notes 2.3 and the cited theory: the tension is short of zero by just that force.
    expect(at.wrenches[1].force[0] / configurational).toBeCloseTo(1, 4);
  });

  test('slides as a pull without tension does while angles are small', () => {
    const pull: Activation = { motion: { kind: 'pull', attachment: 1 }, stages: [0] };
    // The shapes differ by the square of the angle, the moments in relation by as much.
    const [sliding, pulled] = [vBend(0.5, 1), vBend(0.5, undefined, pull)].map(
      (one) => analyseAppliance(one, options).neutral!.wrenches[0].moment[2],
    );
    expect(Math.abs(sliding / pulled - 1)).toBeLessThan(radians(0.5) ** 2);
  });

  test('slides through the first attachment as through the last of the wire turned round', () => {
    const turned = design(
      [straight(14), preactivate([0, 0, radians(30)]), straight(5)],
      [{ station: 4, lengthwise: 'sliding' }, { station: 16 }],
      section,
      steel,
    );
    const first = analyseAppliance(turned, options).neutral!;
    const last = analyseAppliance(vBend(30, 1), options).neutral!;
    expect(first.motion).toBeCloseTo(last.motion, 6);
    expect(first.wrenches[0].moment[2]).toBeCloseTo(-last.wrenches[1].moment[2], 5);
    expect(first.wrenches[0].force[1]).toBeCloseTo(last.wrenches[1].force[1], 5);
    expect(first.wrenches[0].force[0]).toBeCloseTo(-last.wrenches[1].force[0], 5);
  });

  test('is refused where nothing holds the wire lengthwise, and where sliding is not computed', () => {
    const both = design(
      [straight(20)],
      [
        { station: 3, lengthwise: 'sliding' },
        { station: 15, lengthwise: 'sliding' },
      ],
      section,
      steel,
    );
    expect(analyseAppliance(both).failure).toEqual({ reason: 'not-held', detail: 'all-sliding' });
    const inner = design(
      [straight(20)],
      [{ station: 3 }, { station: 9, lengthwise: 'sliding' }, { station: 15 }],
      section,
      steel,
    );
    expect(analyseAppliance(inner).failure).toEqual({ reason: 'sliding-not-computed' });
  });
});
