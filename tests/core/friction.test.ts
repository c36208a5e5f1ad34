/** Friction as bounds on the sliding force, against Coulomb's law worked by hand. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import { normalForces } from '#core/material/slot-friction';
import { design, preactivate, radians, rectangle, steel, straight } from './designs';

const section = rectangle(0.016, 0.022);
const options = { mesh: 'strict', yielding: 'elastic' } as const;

describe('normal forces in a slot', () => {
  test('a force across presses once, a couple at both edges', () => {
    expect(normalForces([5, 3, 4], [0, 0, 0], 3, 0.5)).toBeCloseTo(5, 12);
    // A couple of 6 N mm over 3 mm: 2 N at either edge.
    expect(normalForces([0, 0, 0], [0, 0, 6], 3, 0.5)).toBeCloseTo(4, 12);
    // Both: one edge bears 1 + 2, the other 2 - 1.
    expect(normalForces([0, 2, 0], [0, 0, 6], 3, 0.5)).toBeCloseTo(4, 12);
    expect(normalForces([0, 6, 0], [0, 0, 6], 3, 0.5)).toBeCloseTo(6, 12);
    // 1 N mm of torque on walls 0.5 mm apart in effect.
    expect(normalForces([0, 0, 0], [1, 0, 0], 3, 0.5)).toBeCloseTo(4, 12);
  });
});

describe('a sliding wire with friction', () => {
  // A V bend between a held and a sliding bracket of 3 mm.
  const wire = (friction: number, play = false) =>
    design(
      [straight(6), preactivate([0, 0, radians(4)]), straight(20)],
      [
        { station: 4, length: 3 },
        {
          station: 17.5,
          length: 3,
          lengthwise: 'sliding',
          friction,
          ...(play && { play, slot: { height: 0.45, depth: 0.7 } }),
        },
      ],
      section,
      steel,
    );

  test.each([false, true])(
    'bounds the force along the wire by the coefficient times the normal forces (play: %s)',
    (play) => {
      const friction = 0.15;
      const state = analyseAppliance(wire(friction, play), options).neutral!;
      const smooth = analyseAppliance(wire(0, play), options).neutral!;
      expect(smooth.friction).toBeUndefined();
      // The frictionless state is what it is without.
      expect(state.wrenches[1].moment[2]).toBeCloseTo(smooth.wrenches[1].moment[2], 9);
      const { least, most } = state.friction![1];
      const { force, moment } = state.wrenches[1];
      const normal = normalForces(force, moment, 3, section.kind === 'rectangle' ? section.width : 0);
      expect(normal).toBeGreaterThan(1);
      for (const bound of [least.force[0], most.force[0]]) {
        // The moments change by about the tension times the bend's height, far below a tenth.
        expect(Math.abs(Math.abs(bound - force[0]) / (friction * normal) - 1)).toBeLessThan(0.1);
      }
      expect(least.force[0]).toBeLessThan(force[0]);
      expect(most.force[0]).toBeGreaterThan(force[0]);
    },
  );

  test('widens in proportion while it is small, and vanishes with the coefficient', () => {
    const width = (friction: number) => {
      const { least, most } = analyseAppliance(wire(friction), options).neutral!.friction![1];
      return most.force[0] - least.force[0];
    };
    // Second order in the coefficient: a hundredth of it is left at 0.01.
    expect(width(0.02) / width(0.01)).toBeCloseTo(2, 1);
    expect(width(0.001) / width(0.01)).toBeCloseTo(0.1, 2);
  });

  test('lets a pull at one end need more, and hold less, than without', () => {
    const pulled = (friction: number) =>
      analyseAppliance(
        design(
          [straight(6), preactivate([0, 0, radians(10)]), straight(24)],
          [
            { station: 3 },
            { station: 12, length: 3, lengthwise: 'sliding', friction, moved: [0, 0.3, 0] },
            { station: 24, length: 3 },
          ],
          section,
          steel,
          { motion: { kind: 'pull', attachment: 2 }, stages: [0, 0.02] },
        ),
        options,
      ).stages[1].state!;
    const state = pulled(0.2);
    const { least, most } = state.friction![2];
    const pull = -state.wrenches[2].force[0];
    expect(pull).toBeGreaterThan(0);
    expect(-least.force[0]).toBeGreaterThan(pull + 0.1);
    expect(-most.force[0]).toBeLessThan(pull - 0.1);
  });
});
