/** What becomes of an appliance and its teeth from visit to visit, at the usual rate of movement and at those around it. */

import type { ApplianceAnalysis, Failure } from '#core/analysis/analysis';
import { hasFriction } from '#core/analysis/friction';
import type { FurtherWire } from '#core/analysis/several-wires';
import type { ApplianceDesign } from '#core/design';
import { type Course, type CoursePoint, followVisits, wornDesign } from '#core/response/visits';
import type { Expression, NameExpression } from '#grammar/tree';
import { placeInState } from './evaluation/result-place';
import { evaluateExpression } from './expression/evaluate-expression';
import { knownQuantity } from './expression/value';
import { find } from './names/scope';
import type { ResolvedAppliance } from './resolved';

export interface VisitPlan {
  readonly usual: Course;
  /** At the ends of the range of rates, where one is known, and with friction at its bound, where the wire rubs. */
  readonly others: readonly { readonly what: 'slow' | 'fast' | 'friction'; readonly course: Course }[];
}

/** Undefined where the file has no visits. `analysis` is that of the main wire's design; it keeps the plans made for it. */
export function visitPlan(
  appliance: ResolvedAppliance,
  design: ApplianceDesign,
  analysis: ApplianceAnalysis,
  further: readonly FurtherWire[],
  text: string,
): VisitPlan | Failure | undefined {
  const { visits } = appliance;
  if (!visits) return undefined;
  const key = JSON.stringify([
    visits.rule,
    visits.rates,
    design.groups,
    inputsOf(visits.when, appliance, text),
    further.map(({ name }) => name),
  ]);
  const known = kept.get(analysis) ?? new Map<string, VisitPlan | Failure>();
  kept.set(analysis, known);
  const plan = known.get(key) ?? makePlan(appliance, design, analysis, further, text);
  known.set(key, plan);
  return plan;
}

/** An edit that changes no number makes no plan anew. */
const kept = new WeakMap<ApplianceAnalysis, Map<string, VisitPlan | Failure>>();

function makePlan(
  appliance: ResolvedAppliance,
  design: ApplianceDesign,
  analysis: ApplianceAnalysis,
  further: readonly FurtherWire[],
  text: string,
): VisitPlan | Failure {
  const { visits } = appliance;
  if (!visits) return { reason: 'no-wire' };
  const { rule, rates, when } = visits;
  const reactivates = (point: CoursePoint): boolean => {
    if (!when) return true;
    const place = placeInState({ appliance, analysis, further }, point.state, text, [], { point });
    const value = evaluateExpression(when, place);
    return value?.kind === 'truth' && value.truth === true;
  };
  const worn = wornDesign(design, rule);
  const follow = (rate: number, friction = false) =>
    followVisits(design, further, { ...rule, rate }, reactivates, { friction, worn });
  const usual = follow(rule.rate);
  if ('reason' in usual) return usual;
  // A stiff wire takes seconds already, and little of its course hangs on the rate.
  if (usual.solves > MOST_SOLVES) return { usual, others: [] };
  const others = [
    ...(rates ? [{ what: 'slow' as const, course: follow(rates.low) }] : []),
    ...(rates ? [{ what: 'fast' as const, course: follow(rates.high) }] : []),
    ...(hasFriction(design) ? [{ what: 'friction' as const, course: follow(rule.rate, true) }] : []),
  ];
  return {
    usual,
    others: others.flatMap(({ what, course }) => ('reason' in course ? [] : [{ what, course }])),
  };
}

/** Least and most of a figure over all courses. */
export function spreadOf(
  { usual, others }: VisitPlan,
  figure: (course: Course) => number,
): { readonly value: number; readonly low: number; readonly high: number } {
  const all = [usual, ...others.map(({ course }) => course)].map(figure);
  return { value: all[0], low: Math.min(...all), high: Math.max(...all) };
}

/** Equilibria of a course that leaves time for the others. */
const MOST_SOLVES = 300;

/** What the condition is written with, and the numbers that its names stand for. */
function inputsOf(when: Expression | undefined, { scope }: ResolvedAppliance, text: string): unknown {
  if (!when) return undefined;
  const names = namesIn(when).map(({ name }) => knownQuantity(find(scope, name.text, ['let', 'parameter'])?.value()));
  return [text.slice(when.span.start, when.span.end), names];
}

function namesIn(node: unknown): NameExpression[] {
  if (typeof node !== 'object' || node === null) return [];
  if ('kind' in node && node.kind === 'name') return [node as NameExpression];
  return Object.values(node).flatMap(namesIn);
}
