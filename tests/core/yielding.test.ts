/** The analysis of wires that leave their elastic range: first engagement, trial activation, set, neutral afterwards. */
import { describe, expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceAnalysis } from '#core/analysis/analysis';
import type { ApplianceDesign, WireElement } from '#core/design';
import type { UniaxialLaw } from '#core/material/uniaxial-law';
import { betaTitanium, design, radians, rectangle, roundLoop, straight } from './designs';

const law: UniaxialLaw = { kind: 'elastic-plastic', yield: betaTitanium.yield, hardening: 690 };
const stages = [0, 1, 2, 3];

describe('a wire past yield', () => {
  const gabled = loop(45, { law });
  const first = analyseAppliance(gabled);
  const tried = analyseAppliance({ ...gabled, trialActivation: 3 });

  it('bears less than the elastic wire would, in fibres near the yield strength', () => {
    const elastic = analyseAppliance(gabled, { yielding: 'elastic' });
    expect(elastic.neutral!.stress).toBeGreaterThan(betaTitanium.yield);
    expect(momentAt(first, 3)).toBeLessThan(0.8 * momentAt(elastic, 3));
    const { fibreStress } = first.stages[3].state!;
    // At most the yield strength, the hardening over the strain of the wire's sharpest bend, and the stretch.
    expect(fibreStress!).toBeGreaterThan(0.95 * betaTitanium.yield);
    expect(fibreStress!).toBeLessThan(1.1 * betaTitanium.yield);
  });

  it('is in balance, each end from its own section', () => {
    for (const { state } of [...first.stages, ...tried.stages]) {
      const [a, b] = state!.wrenches;
      for (let k = 0; k < 3; k++)
        expect(Math.abs(a.force[k] + b.force[k])).toBeLessThan(1e-3 * Math.hypot(...b.force) + 1e-4);
      // A section may miss equilibrium by 0.2 % of the yield moment before the last step, by far less after it.
      expect(state!.residual.moment).toBeLessThan(0.05);
    }
  });

  it('tells without a trial activation what one to the largest stage would do', () => {
    expect(first.yielding!.stages).toBe('first');
    const told = first.yielding!.trial!;
    const done = tried.yielding!.trial!;
    // The stages on the way are the only difference: a curve pulled in steps and one pulled at once.
    expect(told.amount).toBe(3);
    expect(told.neutral.motion).toBeCloseTo(done.neutral.motion, 1);
    expect(told.setTurn).toBeCloseTo(done.setTurn, 1);
    expect(first.neutral!.motion).toBe(first.yielding!.first.neutral.motion);
  });

  it('comes nearer to its attachments by the trial activation, and counts from neutral again', () => {
    const { first: before, trial } = tried.yielding!;
    expect(tried.yielding!.stages).toBe('after-trial');
    expect(tried.neutral!.motion).toBe(trial!.neutral.motion);
    expect(trial!.neutral.motion).toBeGreaterThan(before.neutral.motion + 0.2);
    expect(Math.abs(trial!.neutral.wrenches[1].force[0])).toBeLessThan(0.01);
    expect(momentAt(tried, 0)).toBeLessThan(momentAt(first, 0));
    // Gables of 45° a side straightened by it, both in the same sense.
    expect(trial!.setTurn).toBeGreaterThan(radians(5));
    expect(trial!.setTurn).toBeLessThan(radians(90));
    expect(trial!.passive.stations.length).toBeGreaterThan(20);
  });

  it('joins its first curve where it was pulled to, and takes no further set up to about there', () => {
    const { trial, first: before } = tried.yielding!;
    const again = analyseAppliance(
      { ...gabled, trialActivation: 3 },
      { extraActivations: [before.neutral.motion + 3 - trial!.neutral.motion] },
    );
    const joined = again.stages[4].state!;
    // Solver notes 2.2; 1 % of the largest, the wire's arm being cut within a step by the tube (inelastic-span.ts).
    expect(Math.abs(joined.wrenches[1].force[0] / trial!.pulled.wrenches[1].force[0] - 1)).toBeLessThan(0.02);
    expect(Math.abs(joined.wrenches[1].moment[2] / trial!.pulled.wrenches[1].moment[2] - 1)).toBeLessThan(0.02);
    expect(trial!.largestWithoutSet!).toBeGreaterThan(0.5);
    expect(trial!.largestWithoutSet!).toBeLessThan(joined.activation + 0.05);
    expect(tried.firstYield).toBe(trial!.largestWithoutSet);
  });

  it('changes no more by a second trial activation to the same place', () => {
    const { trial, first: before } = tried.yielding!;
    // The same wire pulled to where it was pulled already: what is left of its curve is elastic.
    const upTo = before.neutral.motion + 3 - trial!.neutral.motion;
    const twice = analyseAppliance({
      ...gabled,
      trialActivation: 3,
      activation: { ...gabled.activation!, stages: [0, 0.5 * upTo, 0] },
    });
    const [start, , back] = twice.stages.map(({ state }) => state!);
    expect(back.wrenches[1].moment[2] / start.wrenches[1].moment[2]).toBeCloseTo(1, 3);
  });
});

describe('a wire within its elastic range', () => {
  it('is computed as elastic, whatever its alloy says', () => {
    const plain = analyseAppliance(loop(5, {}, [0, 0.5]));
    const lawful = analyseAppliance(loop(5, { law }, [0, 0.5]));
    expect(lawful.yielding).toBeUndefined();
    expect(lawful).toEqual(plain);
  });

  it('takes no set when it is pulled on trial', () => {
    const tried = analyseAppliance({ ...loop(5, { law }, [0, 0.5]), trialActivation: 0.5 });
    const { trial, first } = tried.yielding!;
    expect(trial!.setTurn).toBeLessThan(1e-4);
    expect(trial!.neutral.motion).toBeCloseTo(first.neutral.motion, 3);
  });
});

describe('a superelastic wire', () => {
  const flag: UniaxialLaw = {
    kind: 'superelastic',
    loadingPlateau: 430,
    unloadingPlateau: 220,
    transformationStrain: 0.05,
  };
  const alloy = { modulus: 50_000, yield: 430, law: flag };
  const loaded = analyseAppliance(loop(45, alloy, [0, 1, 2, 3, 2, 1, 0]));

  it('pulls less on the way back than on the way out, and comes back to neutral', () => {
    expect(loaded.unfollowed).toBeUndefined();
    const forces = loaded.stages.map(({ state }) => Math.abs(state!.wrenches[1].force[0]));
    expect(forces[4]).toBeLessThan(0.95 * forces[2]);
    expect(forces[5]).toBeLessThan(0.95 * forces[1]);
    expect(loaded.yielding!.trial).toBeUndefined();
  });

  it('bears no more than its plateau in the fibres until one has taken up its whole transformation strain', () => {
    for (const { state } of loaded.stages.slice(0, 3)) expect(state!.fibreStress!).toBeLessThan(1.03 * 430);
    // At 3 mm the top of the loop has become a hinge.
    expect(loaded.stages[3].state!.stress).toBeGreaterThan(1.5 * 430);
    expect(loaded.stages[3].state!.fibreStress!).toBeGreaterThan(1.03 * 430);
  });
});

describe('in space', () => {
  it('follows a wire with bends out of its plane', () => {
    const wire = loop(40, { law }, stages, 0.4);
    const tried = analyseAppliance({ ...wire, trialActivation: 3 });
    expect(tried.unfollowed).toBeUndefined();
    expect(tried.yielding!.trial!.neutral.motion).toBeGreaterThan(tried.yielding!.first.neutral.motion);
    for (const { state } of tried.stages) expect(Number.isFinite(state!.fibreStress)).toBe(true);
  });
});

function momentAt({ stages: solved }: ApplianceAnalysis, index: number): number {
  return Math.abs(solved[index].state!.wrenches[1].moment[2]);
}

/** A vertical loop with gables of so many degrees a side, pulled through its first attachment. */
function loop(
  gable: number,
  alloy: Partial<ApplianceDesign['alloy']>,
  amounts: readonly number[] = stages,
  sideways = 0,
): ApplianceDesign {
  const turn = radians(gable);
  const g: WireElement = { length: turn, shape: [0, 0, 0], preactivation: [0, sideways, turn] };
  const elements = [straight(12), g, ...roundLoop, g, straight(8)];
  const total = elements.reduce((sum, { length }) => sum + length, 0);
  return design(
    elements,
    [{ station: 6 }, { station: total - 2 }],
    rectangle(0.019, 0.025),
    { ...betaTitanium, ...alloy },
    { motion: { kind: 'pull', attachment: 0 }, stages: amounts },
  );
}
