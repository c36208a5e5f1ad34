import { expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { Failure } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { oracleWrenches } from '../oracle/discrete-rod';
import { imbalance } from '../validation/balance';
import { confirmed } from './confirm-failure';
import { randomDesign, randomNumbers } from './random-designs';

const seed = 20_240_601;

function designs(count: number, from = seed): ApplianceDesign[] {
  const random = randomNumbers(from);
  return Array.from({ length: count }, () => randomDesign(random));
}

test('2,000 random designs: every one converges or names a cause that the design itself shows', () => {
  const counts = new Map<string, number>();
  const unexplained: string[] = [];
  let worst = 0;
  const begun = performance.now();
  for (const [k, design] of designs(2000).entries()) {
    const analysis = analyseAppliance(design);
    const failures: Failure[] = [];
    if (analysis.failure) failures.push(analysis.failure);
    for (const { state, failure } of analysis.stages) {
      if (failure) failures.push(failure);
      if (state) {
        const { force, moment } = imbalance(design, state);
        worst = Math.max(worst, force, moment);
        expect([state.stress, state.motion, ...state.wrenches.flatMap((w) => [...w.force, ...w.moment])]).toSatisfy(
          (values: number[]) => values.every(Number.isFinite),
        );
      }
    }
    const cause = failures[0]?.reason ?? 'converged';
    counts.set(cause, (counts.get(cause) ?? 0) + 1);
    const odd = failures.find((failure) => !confirmed(design, failure));
    if (odd) unexplained.push(`design ${k}: ${JSON.stringify(odd)}`);
  }
  console.log(
    `2,000 random designs, seed ${seed}, ${((performance.now() - begun) / 1000).toFixed(1)} s:`,
    [...counts].map(([cause, count]) => `${count} ${cause}`).join(', '),
    `; largest imbalance ${worst.toExponential(1)} of the largest term`,
  );
  expect(unexplained).toEqual([]);
  // The default mesh stops Newton at a defect whose share of the force is a few 1e-6 (solver notes 3.1).
  expect(worst).toBeLessThan(1e-5);
}, 100_000);

test('random designs agree with the independent rod (a finite-difference rod that shares only the input record)', () => {
  let compared = 0;
  let skipped = 0;
  let [worstForce, worstMoment] = [0, 0];
  for (const design of designs(24, 7)) {
    const analysis = analyseAppliance(design, { mesh: 'strict' });
    const largest = (kind: 'force' | 'moment') =>
      Math.max(...analysis.stages.flatMap(({ state }) => state?.wrenches.flatMap((w) => w[kind].map(Math.abs)) ?? [0]));
    const [force, moment] = [largest('force'), largest('moment')];
    const stage = analysis.stages[analysis.stages.length - 1];
    if (!stage.state) {
      skipped++;
      continue;
    }
    const other = oracleWrenches(design, stage.state.motion, { longest: 0.4, turn: Math.PI / 30 });
    expect(other, 'the independent rod found no equilibrium').toBeDefined();
    compared++;
    for (const [i, wrench] of stage.state.wrenches.entries()) {
      for (let axis = 0; axis < 3; axis++) {
        worstForce = Math.max(worstForce, Math.abs(wrench.force[axis] - other![i].force[axis]) / force);
        worstMoment = Math.max(worstMoment, Math.abs(wrench.moment[axis] - other![i].moment[axis]) / moment);
      }
    }
  }
  console.log(
    `${compared} random designs against the independent rod (${skipped} without equilibrium):`,
    `force within ${(100 * worstForce).toFixed(4)} %, moment within ${(100 * worstMoment).toFixed(4)} % of the largest`,
  );
  expect(compared).toBeGreaterThan(15);
  // Strict mesh 0.02 % (mechanics note); the extrapolated rod is good to about 0.01 %.
  expect(worstForce).toBeLessThan(3e-4);
  expect(worstMoment).toBeLessThan(3e-4);
}, 100_000);
