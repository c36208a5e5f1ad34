/** What changes with the activation: forces, moments, their ratio, leg gaps, elastic use, and what the file requires of them. */
import type { ApplianceAnalysis, EngagedState, Wrench } from '#core/analysis/analysis';
import { FORCE, LENGTH, MOMENT, NUMBER, sameDimension } from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';
import { senses } from './effects';
import { type Bound, evaluateCondition } from './evaluation/evaluate-condition';
import { placeInState, type Results } from './evaluation/result-place';
import { momentToForce } from './moment-to-force';
import type { EvaluatedAppliance, Verdict } from './resolved';

export interface ActivationCurves {
  /** mm from neutral, in rising order; one value of each curve per activation. */
  readonly activations: readonly number[];
  readonly charts: readonly CurveChart[];
}

export interface CurveChart {
  readonly title: string;
  readonly dimension: Dimension;
  readonly curves: readonly Curve[];
}

export interface Curve {
  /** In words for a legend, e.g. "canine distal". */
  readonly name: string;
  /** What it is in the language, e.g. `canine.force.distal`. */
  readonly expression: string;
  /** In the chart's dimension; undefined where there is no such figure. */
  readonly values: readonly (number | undefined)[];
  /** Between which friction leaves it. */
  readonly friction?: { readonly least: readonly number[]; readonly most: readonly number[] };
  readonly limits: readonly Limit[];
}

/** What a requirement allows; without a side it is open there. */
export interface Limit {
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** The one activation at which it is asked, or all of them. */
  readonly activation: number | undefined;
  readonly outcome: Verdict['outcome'];
}

/** Undefined where nothing is activated, or fewer than two stages are solved. */
export function activationCurves(evaluated: EvaluatedAppliance, text: string): ActivationCurves | undefined {
  const { appliance, analysis } = evaluated;
  const design = evaluated.gauged?.design ?? appliance.design;
  if (!design?.activation || !analysis) return undefined;
  const states = analysis.stages
    .slice(0, design.activation.stages.length)
    .flatMap(({ state }) => (state ? [state] : []))
    .sort((a, b) => a.activation - b.activation);
  if (states.length < 2) return undefined;
  const names = design.attachments.map(({ name }) => name);
  const asked = askedFor(evaluated, analysis, states, text);
  const charts: readonly Drawn[] = [
    {
      title: 'Force',
      dimension: FORCE,
      takes: /./,
      curves: names.flatMap((name, k) => largest('force', name, k, states)),
    },
    {
      title: 'Moment',
      dimension: MOMENT,
      takes: /./,
      curves: names.flatMap((name, k) => largest('moment', name, k, states)),
    },
    {
      title: 'Moment to force',
      dimension: LENGTH,
      takes: /\//,
      curves: names.flatMap((name, k) => ratio(name, k, states)),
    },
    {
      title: states.some(({ loops }) => loops.some(({ legGap }) => legGap < 0))
        ? 'Leg gap (below 0: legs crossed)'
        : 'Leg gap',
      dimension: LENGTH,
      takes: /^\w+\.leg_gap$/,
      curves: design.loops.map(({ name }, k) => ({
        name,
        expression: `${name}.leg_gap`,
        values: states.map(({ loops }) => loops[k].legGap),
      })),
    },
    {
      title: 'Elastic use',
      dimension: NUMBER,
      takes: /^wire\.elastic_use$/,
      curves: [{ name: 'wire', expression: 'wire.elastic_use', values: states.map(({ elasticUse }) => elasticUse) }],
    },
  ];
  return {
    activations: states.map(({ activation }) => activation),
    charts: charts
      .map(({ title, dimension, takes, curves }) => {
        const fitting = asked.filter((one) => sameDimension(one.dimension, dimension) && takes.test(one.expression));
        return { title, dimension, curves: withAsked(curves, fitting) };
      })
      .filter(({ curves }) => curves.length > 0),
  };
}

interface Drawn extends Omit<CurveChart, 'curves'> {
  /** Of what is asked for in that dimension, what belongs here. */
  readonly takes: RegExp;
  readonly curves: readonly Omit<Curve, 'limits'>[];
}

/** The component of an attachment's force or moment that becomes largest, in the sense that it then has. */
function largest(
  kind: 'force' | 'moment',
  name: string,
  k: number,
  states: readonly EngagedState[],
): readonly Omit<Curve, 'limits'>[] {
  const components = ([0, 1, 2] as const).map((axis) => states.map(({ wrenches }) => wrenches[k][kind][axis]));
  const sizes = components.map((values) => Math.max(...values.map(Math.abs)));
  const axis = sizes.indexOf(Math.max(...sizes)) as 0 | 1 | 2;
  if (!(sizes[axis] > NOTHING)) return [];
  const values = components[axis];
  const extreme = values.reduce((most, value) => (Math.abs(value) > Math.abs(most) ? value : most));
  const sign = extreme < 0 ? -1 : 1;
  const sense = senses[kind][axis][extreme < 0 ? 1 : 0];
  const bounds = states.map(({ friction }) => friction?.[k]);
  const part = (wrench: Wrench) => sign * wrench[kind][axis];
  const ends = bounds.flatMap((one) => (one ? [[part(one.least), part(one.most)]] : []));
  return [
    {
      name: `${name} ${sense.replaceAll('_', ' ')}`,
      expression: `${name}.${kind}.${sense}`,
      values: values.map((value) => sign * value),
      ...(ends.length === states.length && {
        friction: { least: ends.map((pair) => Math.min(...pair)), most: ends.map((pair) => Math.max(...pair)) },
      }),
    },
  ];
}

/** N and N mm */
const NOTHING = 1e-6;

function ratio(name: string, k: number, states: readonly EngagedState[]): readonly Omit<Curve, 'limits'>[] {
  const values = states.map(({ wrenches }) => momentToForce(wrenches[k]));
  if (values.every((value) => value === undefined)) return [];
  return [{ name, expression: `${name}.moment.crown_mesial / ${name}.force.distal`, values }];
}

interface Asked extends Omit<Curve, 'limits'> {
  readonly dimension: Dimension;
  readonly limit: Limit;
}

/** The computed side of every condition at all stages, with its bound. */
function askedFor(
  { appliance, verdicts, further }: EvaluatedAppliance,
  analysis: ApplianceAnalysis,
  states: readonly EngagedState[],
  text: string,
): readonly Asked[] {
  return verdicts.flatMap(({ condition, requirement, outcome }): Asked[] => {
    const { test } = condition;
    if (!test) return [];
    const readings = states.map((state) => read({ appliance, analysis, further }, state, text, test));
    const [first] = readings.flatMap((reading) => (reading.actual && reading.bound ? [reading] : []));
    if (!first?.actual || !first.bound) return [];
    const { stage, activation } = requirement;
    const [low, high] = sides(first.bound);
    return [
      {
        name: nameOf(first.what ?? ''),
        expression: first.what ?? '',
        dimension: first.actual.dimension,
        values: readings.map(({ actual }) => actual?.value),
        limit: { low, high, outcome, activation: stage === 'neutral' ? 0 : stage === 'at' ? activation : undefined },
      },
    ];
  });
}

/** `canine.force.gingival` is "canine gingival", with an auxiliary wire's name before it where it is of that; anything else is told as it is written. */
function nameOf(expression: string): string {
  const [, owner, sense] = /^(\w+|\w+\.\w+)\.(?:force|moment)\.(\w+)$/.exec(expression) ?? [];
  return owner && sense ? `${owner.replace('.', ' ')} ${sense.replaceAll('_', ' ')}` : expression;
}

function read(results: Results, state: EngagedState, text: string, test: Parameters<typeof evaluateCondition>[0]) {
  const reasons: string[] = [];
  return evaluateCondition(test, placeInState(results, state, text, reasons), reasons);
}

function sides(bound: Bound): readonly [number | undefined, number | undefined] {
  if (bound.kind === 'range') return [bound.low.value, bound.high.value];
  if (bound.kind.startsWith('<')) return [undefined, bound.value.value];
  return bound.kind.startsWith('>') ? [bound.value.value, undefined] : [bound.value.value, bound.value.value];
}

/** Limits at the curves that they are of; what is asked of something else becomes a curve of its own. */
function withAsked(curves: readonly Omit<Curve, 'limits'>[], asked: readonly Asked[]): readonly Curve[] {
  const known = new Set(curves.map(({ expression }) => expression));
  const further = asked.filter(
    ({ expression }, k) => !known.has(expression) && asked.findIndex((one) => one.expression === expression) === k,
  );
  return [...curves, ...further.map(({ name, expression, values }) => ({ name, expression, values }))].map((curve) => ({
    ...curve,
    limits: asked.flatMap((one) => (one.expression === curve.expression ? [one.limit] : [])),
  }));
}
