/** What can be read off an appliance in the mouth: leg gaps and angles at an activation, and how far it may go. */
import type { ApplianceAnalysis, EngagedState, LoopState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { norm } from '#core/math/vector';
import { ANGLE, FORCE, LENGTH } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';

export interface Reading {
  /** mm from neutral */
  readonly activation: number;
  /** Per loop of the design. */
  readonly loops: readonly LoopState[];
}

/** Between the solved stages as a straight line from one to the next; undefined outside of them. */
export function readingAt(states: readonly EngagedState[], activation: number): Reading | undefined {
  const next = states.findIndex((state) => state.activation >= activation - SAME);
  if (next < 0) return undefined;
  const after = states[next];
  if (Math.abs(after.activation - activation) <= SAME) return { activation, loops: after.loops };
  if (next === 0) return undefined;
  const before = states[next - 1];
  const part = (activation - before.activation) / (after.activation - before.activation);
  const between = (a: number, b: number): number => a + part * (b - a);
  const loops = before.loops.map(({ legGap, legAngle }, k) => ({
    legGap: between(legGap, after.loops[k].legGap),
    legAngle: between(legAngle, after.loops[k].legAngle),
  }));
  return { activation, loops };
}

/** mm */
const SAME = 1e-6;

/** "4.8 mm, crossed": to the tenth that a gauge in the mouth shows. */
export function gapText(gap: number): string {
  const tenth = Math.round(Math.abs(gap) * 10) / 10;
  if (tenth === 0) return 'closed';
  return `${formatQuantity({ value: tenth, dimension: LENGTH })}${gap < 0 ? ', crossed' : ''}`;
}

/** "24 deg apart": the legs lean away from each other toward their free side, or together. */
export function legsText(angle: number): string {
  const degrees = Math.round((Math.abs(angle) * 180) / Math.PI);
  if (degrees === 0) return 'parallel';
  return `${formatQuantity({ value: (degrees * Math.PI) / 180, dimension: ANGLE })} ${angle > 0 ? 'together' : 'apart'}`;
}

/** "gap 4.8 mm, crossed, legs 24 deg apart" of every loop, with its name where there are several. */
export function readingText({ loops }: Reading, design: ApplianceDesign): string {
  return loops
    .map(({ legGap, legAngle }, k) => {
      const name = loops.length > 1 ? `${design.loops[k].name}: ` : '';
      return `${name}leg gap ${gapText(legGap)}, legs ${legsText(legAngle)}`;
    })
    .join('; ');
}

/** An activation that is not to be passed, to the tenth below it. */
export function upTo(activation: number): string {
  return formatQuantity({ value: Math.floor(activation * 10 + SAME) / 10, dimension: LENGTH });
}

export function largestForce({ wrenches }: EngagedState, units: UnitPreferences): string {
  const value = Math.max(...wrenches.map(({ force }) => norm(force)));
  return formatQuantity({ value, dimension: FORCE }, units);
}

/** How far it may go, each limit with what is to be seen there. */
export function limits(analysis: ApplianceAnalysis, design: ApplianceDesign): readonly string[] {
  const { stages, parallelLegs, firstYield, yielding, unfollowed } = analysis;
  const states = stages.flatMap(({ state }) => state ?? []);
  const seen = (activation: number): string => {
    const reading = states[0]?.loops.length ? readingAt(states, activation) : undefined;
    return reading ? ` There: ${readingText(reading, design)}.` : '';
  };
  const trial = yielding?.trial;
  const room = trial?.largestWithoutSet;
  const last = states.at(-1)?.activation;
  const passes = states.some(({ elasticUse }) => elasticUse > 1);
  return [
    ...parallelLegs.flatMap((at, k) =>
      at === undefined
        ? []
        : [`The legs of ${design.loops[k].name} are parallel at ${upTo(at)}: no further than there.${seen(at)}`],
    ),
    ...(design.trialActivation === undefined
      ? yieldLimit(firstYield, seen)
      : [
          `Trial activation before it is engaged for good: once to ${formatQuantity({ value: design.trialActivation, dimension: LENGTH })}, let go, and compare it with the template. What stands above is after that.`,
        ]),
    ...(room === undefined || trial === undefined
      ? []
      : design.trialActivation === undefined
        ? [
            `Pulled once to ${upTo(trial.amount)} and let go, it would have another neutral position and take no further set up to ${upTo(room)}.`,
          ]
        : [`It takes no further set up to ${upTo(room)}.${seen(room)}`]),
    ...(!passes && firstYield === undefined ? ['Within these activations the wire stays elastic.'] : []),
    ...(passes && unfollowed
      ? ['Past its elastic range the wire was not followed: forces are lower there than told.']
      : []),
    ...(last === undefined
      ? []
      : [`Nothing is computed beyond ${formatQuantity({ value: last, dimension: LENGTH })}.`]),
  ];
}

function yieldLimit(firstYield: number | undefined, seen: (activation: number) => string): readonly string[] {
  if (firstYield === undefined) return [];
  if (firstYield <= SAME)
    return ['The wire yields while it is engaged, before it is activated: it does not come back to its passive shape.'];
  return [
    `The wire begins to yield at ${upTo(firstYield)}: beyond it takes a set, neutral moves and the next reading is off.${seen(firstYield)}`,
  ];
}
