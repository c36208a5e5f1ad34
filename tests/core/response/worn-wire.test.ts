/** The set that a wire keeps, given back to an elastic wire, leaves it where the followed history has it. */
import { describe, expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import { withSet } from '#core/analysis/taken-set';
import type { ApplianceDesign } from '#core/design';
import { developedLength } from '#core/geometry/developed-length';
import { wornDesign } from '#core/response/visits';
import { bend, design, preactivate, straight } from '../designs';

/** Linear law of a beta-titanium (mechanics of the tests, no source needed): yields at 1000 MPa, hardens a little. */
const alloy = {
  name: 'test',
  modulus: 66_000,
  poisson: 0.33,
  yield: 900,
  smallestInnerRadius: 1,
  law: { kind: 'elastic-plastic', yield: 900, hardening: 2_000 },
} as const;

describe('a steeply gabled loop, pulled on trial', () => {
  const [h, r, L, gable] = [8, 1.5, 26, 0.8];
  const quarter = Math.PI / 2;
  const elements = [
    straight(8 + L / 2 - r),
    preactivate([0, 0, gable]),
    bend(quarter),
    straight(h - r),
    bend(-Math.PI, r),
    straight(h - r),
    bend(quarter),
    preactivate([0, 0, gable]),
    straight(L / 2 - r + 2),
  ];
  for (const reversed of [false, true]) {
    it(`neutral position and forces of both agree, drawn through the ${reversed ? 'last' : 'first'} attachment`, () => {
      const total = developedLength(elements);
      const way = reversed ? [...elements].reverse() : elements;
      const seats = reversed ? [2, total - 8] : [8, total - 2];
      const made = design(
        way,
        seats.map((station) => ({ station })),
        { kind: 'rectangle', height: 0.4318, width: 0.635, cornerRadius: 0 },
        alloy,
      );
      const wire: ApplianceDesign = {
        ...made,
        activation: { motion: { kind: 'pull', attachment: reversed ? 1 : 0 }, stages: [0, 1, 2, 3, 4] },
        trialActivation: 5,
      };
      const followed = analyseAppliance(wire);
      expect(followed.yielding?.trial?.set.length).toBeGreaterThan(0);
      const worn = wornDesign(wire, { activate: 4 });
      const elastic = analyseAppliance({ ...worn, trialActivation: undefined }, { yielding: 'elastic' });
      // The set has moved neutral by far more than what is left between both, which differ in their meshes.
      const moved = Math.abs((followed.yielding?.first.neutral.motion ?? 0) - (followed.neutral?.motion ?? 0));
      expect(moved).toBeGreaterThan(0.05);
      expect(Math.abs((elastic.neutral?.motion ?? 0) - (followed.neutral?.motion ?? 0))).toBeLessThan(0.05 * moved);
      const largest = Math.max(
        ...followed.stages.flatMap(({ state }) => state?.wrenches.map(({ force }) => Math.abs(force[0])) ?? []),
      );
      for (const [k, { state }] of followed.stages.entries()) {
        const other = elastic.stages[k].state;
        for (const [a, { force }] of (state?.wrenches ?? []).entries()) {
          expect(Math.abs(force[0] - (other?.wrenches[a].force[0] ?? Number.NaN))).toBeLessThan(0.02 * largest);
        }
      }
    });
  }

  it('keeps length and turn of every element that it cuts', () => {
    const set = [{ from: 12, to: 13, turn: [0, 0, 0.1] as const }];
    const cut = withSet([straight(10), straight(10)], set);
    expect(developedLength(cut)).toBeCloseTo(20, 12);
    expect(cut.reduce((sum, { preactivation }) => sum + preactivation[2], 0)).toBeCloseTo(0.1, 12);
    expect(cut.map(({ length }) => length)).toEqual([10, 2, 1, 7]);
  });
});
