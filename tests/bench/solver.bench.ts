/** Times of the solver on a warm process, and its accuracy against a strict mesh. Goals: the mechanics note. */
import { Bench } from 'tinybench';
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceDesign } from '#core/design';
import gabled from './appliances/vertical-loop-gabled.spring';
import inSpace from './appliances/vertical-loop-in-space.spring';
import { designOf } from './design-of';
import { deviation } from './deviation';

const planar = designOf(gabled);
const space = designOf(inSpace);
const tried = (text: string): ApplianceDesign => ({ ...designOf(text, 'followed'), trialActivation: 3 });
const engaged = (design: ApplianceDesign): ApplianceDesign => ({ ...design, activation: undefined });

const cases: readonly [string, ApplianceDesign, string][] = [
  ['one engaged state, planar', engaged(planar), ''],
  ['one engaged state, 3D', engaged(space), ''],
  ['7-stage curve, planar', planar, 'goal 0.4 ms'],
  ['13-stage curve, 3D', space, 'goal 0.8 ms'],
  ['trial, release, 7 stages', tried(gabled), 'elastic-plastic, planar, the elastic curve included; goal 2 ms'],
  ['trial, release, 13 stages', tried(inSpace), 'elastic-plastic, 3D, the elastic curve included; goal 15 ms'],
];

const bench = new Bench({ time: 1500, warmupTime: 500 });
for (const [name, design] of cases) bench.add(name, () => void analyseAppliance(design));
await bench.run();

console.log('Times are of whole analyses (geometry, neutral, stages, stresses, outlines), in ms.');
for (const [i, task] of bench.tasks.entries()) {
  const [name, design, goal] = cases[i];
  if (task.result?.state !== 'completed') throw new Error(`${name} did not complete`);
  const { latency } = task.result;
  const { solves, iterations } = analyseAppliance(design).effort;
  console.log(
    [
      name.padEnd(28),
      `median ${latency.p50.toFixed(3)}`,
      `p99 ${latency.p99.toFixed(3)}`,
      `least ${latency.min.toFixed(3)}`,
      `${solves} equilibria, ${iterations} iterations`,
      goal,
    ].join('  '),
  );
}

console.log('\nDefault mesh against the strict one, largest deviation over the curve / largest value (goal 0.05 %):');
for (const [name, design] of cases.slice(2, 4)) {
  const { force, moment } = deviation(analyseAppliance(design), analyseAppliance(design, { mesh: 'strict' }));
  console.log(`${name.padEnd(28)}  force ${(100 * force).toFixed(4)} %  moment ${(100 * moment).toFixed(4)} %`);
}
