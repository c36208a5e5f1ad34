/** The goals of the mechanics note beside what is reached here. What cannot be solved yet is 'not reached'. */
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { Bench } from 'tinybench';
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceDesign } from '#core/design';
import { parse } from '#grammar/parser';
import { startNodeServer } from '../lsp/test-client';
import { randomDesign, randomNumbers } from '../random/random-designs';
import { survey } from '../random/survey';
import gabled from './appliances/vertical-loop-gabled.spring';
import inSpace from './appliances/vertical-loop-in-space.spring';
import { planarCases } from './calculix/cases/planar';
import { differences, extrapolated, finiteElementAnswer, ownAnswer } from './calculix/compare';
import { calculixPresent } from './calculix/run';
import { designOf } from './design-of';
import { deviation } from './deviation';

interface Reached {
  readonly goal: string;
  readonly aim: string;
  readonly reached: string;
}

const rows: Reached[] = [
  await timed('elastic 7-stage curve of a gabled loop, warm', '0.4 ms', () => curve(designOf(gabled))),
  await timed('3D 13-stage curve with gable, V bend, anti-rotation', '0.8 ms', () => curve(designOf(inSpace))),
  await timed('one state solved again after an edit, geometry included', '0.1 ms', editedState),
  await timed('archwire over 10 attachments, sliding', '0.7 ms', () => curve(archwireDesign(''))),
  await timed('archwire over 10 attachments, with play', '3 ms', () => curve(archwireDesign(', with play'))),
  await timed('planar elastic-plastic trial-activation cycle', '2 ms', () => curve(onTrial(gabled))),
  await timed('3D elastic-plastic cycle with history', '15 ms', () => curve(onTrial(inSpace))),
  ...throughput(),
  discretisation('default', '0.05 %'),
  discretisation('strict', '0.02 %'),
  failures(),
  await firstCurve(),
  againstFiniteElements(),
];
const widths = (['goal', 'aim'] as const).map((key) => Math.max(...rows.map((row) => row[key].length)));
for (const { goal, aim, reached } of rows)
  console.log(`${goal.padEnd(widths[0])}  ${aim.padEnd(widths[1])}  ${reached}`);

/** Median of what `prepare` returns, called over and over; 'not reached' where it does not run. */
async function timed(goal: string, aim: string, prepare: () => () => void): Promise<Reached> {
  let run: () => void;
  try {
    run = prepare();
    run();
  } catch (error) {
    return { goal, aim, reached: `not reached (${(error as Error).message.split('\n')[0]})` };
  }
  const bench = new Bench({ time: 1000, warmupTime: 500 });
  bench.add(goal, run);
  await bench.run();
  const { result } = bench.tasks[0];
  if (result?.state !== 'completed') throw new Error(`${goal} did not complete`);
  const { p50, p99, min } = result.latency;
  return { goal, aim, reached: `${p50.toFixed(3)} ms (least ${min.toFixed(3)}, p99 ${p99.toFixed(3)})` };
}

/** A whole analysis: geometry, neutral, stages, stresses, outlines. */
function curve(design: ApplianceDesign): () => void {
  return () => {
    const { stages, failure } = analyseAppliance(design);
    const missing = failure ?? stages.find((stage) => stage.failure)?.failure;
    if (missing) throw new Error(missing.reason);
  };
}

/** The same wire with another gable each time: nothing can be kept from the last. */
function editedState(): () => void {
  const { activation: _, ...design } = designOf(gabled);
  let k = 0;
  return () => {
    k++;
    const scale = 1 + 1e-4 * (k % 100);
    const elements = design.elements.map((element) => ({
      ...element,
      preactivation: element.preactivation.map((turn) => turn * scale) as unknown as typeof element.preactivation,
    }));
    curve({ ...design, elements, activation: undefined })();
  };
}

function onTrial(text: string): ApplianceDesign {
  return { ...designOf(text, 'followed'), trialActivation: 3 };
}

function archwireDesign(clause: string): ApplianceDesign {
  const text = archwire(clause);
  const { problems } = parse(text);
  if (problems.length > 0) throw new Error(problems[0].message);
  return designOf(text);
}

/** Held by the first bracket; it slides through the others. */
function archwire(clause: string): string {
  const names = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i', 'j'];
  return `alloy bench_titanium { modulus = 69 GPa poisson = 0.33 yield = 900 MPa inner_radius = 1.5 }
appliance archwire {
  wire 0.016 in x 0.022 in of bench_titanium
  path running mesial { straight 6 mm ${names.map((name) => `seat ${name}`).join(' straight 7 mm ')} straight 6 mm }
  ${names.map((name, k) => `bracket ${name} slot 0.022 in x 0.028 in, width 3 mm, moved ${((k * 37) % 11) / 20} mm gingival${k === 0 ? '' : ', sliding'}${clause}`).join('\n  ')}
}`;
}

function throughput(): Reached[] {
  const random = randomNumbers(11);
  const designs = Array.from({ length: 400 }, () => randomDesign(random));
  const perSecond = (run: (design: ApplianceDesign) => void) => {
    for (const design of designs) run(design);
    const begun = performance.now();
    for (const design of designs) run(design);
    return Math.round((1000 * designs.length) / (performance.now() - begun));
  };
  const states = perSecond((design) => void analyseAppliance({ ...design, activation: undefined }));
  const stages = [0, 0.5, 1, 1.5, 2, 2.5, 3];
  const curves = perSecond(
    (design) => void analyseAppliance({ ...design, activation: { ...design.activation!, stages } }),
  );
  return [
    { goal: 'states of random designs per second and core', aim: '10,000', reached: String(states) },
    { goal: '7-stage curves of random designs per second and core', aim: '2,500', reached: String(curves) },
  ];
}

/** Default against strict, strict against the same wire cut into short elements. */
function discretisation(mesh: 'default' | 'strict', aim: string): Reached {
  const goal = `discretisation, 99 % of 300 random designs, ${mesh} mesh`;
  const random = randomNumbers(99);
  const misses: number[] = [];
  for (let k = 0; k < 300; k++) {
    const design = randomDesign(random);
    const reference = analyseAppliance(mesh === 'default' ? design : cut(design), { mesh: 'strict' });
    const found = analyseAppliance(design, { mesh });
    if (reference.failure || found.failure || reference.stages.some(({ failure }) => failure)) continue;
    const { force, moment } = deviation(found, reference);
    misses.push(Math.max(force, moment));
  }
  if (misses.length === 0)
    return { goal, aim, reached: 'not reached: none of the designs has an equilibrium on both meshes' };
  misses.sort((a, b) => a - b);
  const reached = `${(100 * misses[Math.floor(0.99 * misses.length)]).toFixed(4)} % (${misses.length} compared)`;
  return { goal, aim, reached };
}

/** The same wire in short elements, which makes the steps of the strict mesh shorter still. */
function cut(design: ApplianceDesign): ApplianceDesign {
  // In here, as the rows above are made before a constant further down has its value.
  const parts = 8;
  const part = (turn: readonly number[]) => turn.map((value) => value / parts) as unknown as [number, number, number];
  const elements = design.elements.flatMap((element) =>
    element.length === 0
      ? [element]
      : Array.from({ length: parts }, () => ({
          length: element.length / parts,
          shape: part(element.shape),
          preactivation: part(element.preactivation),
        })),
  );
  return { ...design, elements };
}

function failures(): Reached {
  const { designs, unexplained, causes, taut, seconds } = survey(2000, 20_240_601);
  const refused = [...causes].filter(([cause]) => cause !== 'converged').map(([cause, count]) => `${count} ${cause}`);
  return {
    goal: 'failures among feasible random designs',
    aim: '0 in 100,000',
    reached: `${unexplained.length} in ${designs} (${seconds.toFixed(1)} s; refused, confirmed: ${refused.join(', ') || 'none'}; taut: ${taut}); all: npm run bench -- random-long`,
  };
}

/** From opening the first file to its hints, in a server that has had two seconds to warm up. */
async function firstCurve(): Promise<Reached> {
  const [goal, aim] = ['first curve after the server starts, hints included', '30 ms'];
  const server = resolve('dist/server.node.cjs');
  if (!existsSync(server)) return { goal, aim, reached: 'not measured: run `npm run build` first' };
  const client = await startNodeServer(server);
  await new Promise((done) => setTimeout(done, 2000));
  const begun = performance.now();
  client.open('file:///bench/first.spring', gabled);
  await client.hints('file:///bench/first.spring');
  const reached = `${(performance.now() - begun).toFixed(1)} ms`;
  await client.stop();
  return { goal, aim, reached };
}

function againstFiniteElements(): Reached {
  const [goal, aim] = ['times faster than finite elements of equal error (0.5 % of the largest force)', '3,000'];
  if (!calculixPresent()) return { goal, aim, reached: 'not run: ccx is not installed' };
  const one = planarCases.find(({ name }) => name === 'vertical loop, wide bends');
  if (!one) throw new Error('the case is missing');
  const own = ownAnswer(one);
  const [coarse, fine] = one.meshes.map((mesh) => finiteElementAnswer(own, mesh));
  const limit = extrapolated(coarse, fine, one.meshes);
  const [cheapest] = [coarse, fine].filter(({ wrenches }) => differences(limit, wrenches).force <= 0.005);
  if (!cheapest) return { goal, aim, reached: 'neither mesh is good to 0.5 %' };
  const times = Array.from({ length: 200 }, () => {
    const before = performance.now();
    analyseAppliance(own.design);
    return performance.now() - before;
  });
  const median = times.slice(100).sort((a, b) => a - b)[50];
  const error = 100 * differences(limit, cheapest.wrenches).force;
  return {
    goal,
    aim,
    reached: `${Math.round(cheapest.milliseconds / median)} (ccx ${cheapest.milliseconds.toFixed(0)} ms with ${error.toFixed(2)} % left, ${median.toFixed(2)} ms here)`,
  };
}
