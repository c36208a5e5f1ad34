/** Time to follow half a year of visits, planar and in space, from one course to the whole plan, and what a finer step changes. */
import { Bench } from 'tinybench';
import type { Course, VisitRule } from '#core/response/visits';
import { followVisits, wornDesign } from '#core/response/visits';
import planarText from '../../examples/17-visits.spring';
import { resolveAppliance } from '../model/resolve-text';

const DAY = 86_400;
const planar = resolveAppliance(planarText);
const inSpaceText = planarText
  .replace(
    '    preactivate gable toward gingival\n',
    '    preactivate gable toward gingival\n    preactivate 8 deg toward lingual\n',
  )
  .replace(' stress relieved', '');
const inSpace = resolveAppliance(inSpaceText);

const half: VisitRule = { ...planar.visits!.rule, close: undefined, longest: 182 * DAY, activate: 3 };
const follow = (of: typeof planar, rate = half.rate, step = {}): Course => {
  const design = of.design!;
  const reactivates = ({ state }: { state: Course['points'][number]['state'] }) => -state.wrenches[1].force[0] < 0.98;
  const course = followVisits(design, [], { ...half, rate }, reactivates, { worn: worn.get(of), step });
  if ('reason' in course) throw new Error(course.reason);
  return course;
};
const worn = new Map([planar, inSpace].map((of) => [of, wornDesign(of.design!, half)] as const));

const bench = new Bench({ time: 2000, warmupTime: 500 });
const cases = [
  ['half a year, planar, elastic', () => follow(planar)],
  ['the same at three rates', () => [1, 0.8, 1.4].map((factor) => follow(planar, factor * half.rate))],
  ['half a year in 3D', () => follow(inSpace)],
  ['the same at three rates', () => [1, 0.8, 1.4].map((factor) => follow(inSpace, factor * half.rate))],
  ['the wire worn in first, 3D', () => wornDesign(inSpace.design!, half)],
] as const;
for (const [k, [name, run]] of cases.entries()) bench.add(`${k} ${name}`, () => void run());
await bench.run();
for (const [k, task] of bench.tasks.entries()) {
  if (task.result?.state !== 'completed') throw new Error(`${cases[k][0]} did not complete`);
  const { latency } = task.result;
  console.log(`${cases[k][0].padEnd(30)} median ${latency.p50.toFixed(1)} ms  least ${latency.min.toFixed(1)} ms`);
}
console.log('goal: a plan of six months with a spring in 3D under 150 ms\n');
for (const [name, of] of [
  ['planar', planar],
  ['3D', inSpace],
] as const) {
  const [usual, fine] = [follow(of), follow(of, half.rate, { longest: 1 / 6, error: 0.0005 })];
  const [a, b] = [usual, fine].map(({ points }) => points[points.length - 1]);
  const off = a.groups.map((one, k) => Math.hypot(...one.crownMoved.map((x, c) => x - b.groups[k].crownMoved[c])));
  const size = Math.max(...b.groups.map(({ crownMoved }) => Math.hypot(...crownMoved)));
  console.log(
    `${name.padEnd(8)} ${usual.solves} equilibria; against half the step and an eighth of its error the crowns end ${((100 * Math.max(...off)) / size).toFixed(2)} % elsewhere`,
  );
}
