/** Holds an analysis against the appliance's requirements. */
import type { EngagedState, StageResult } from '#core/analysis/analysis';
import type { Course, CoursePoint } from '#core/response/visits';
import { LENGTH } from '#core/units/dimension';
import { formatApart, formatQuantity, type UnitPreferences } from '#core/units/format';
import type { Condition } from '#grammar/tree';
import { preferenceMissed } from '../diagnostics/preference-missed';
import { requirementMissed } from '../diagnostics/requirement-missed';
import { requirementNotEvaluable } from '../diagnostics/requirement-not-evaluable';
import type { Problem } from '../problem';
import type { ResolvedAppliance, ResolvedRequirement, Verdict } from '../resolved';
import { weekOf } from '../results';
import { type Bound, type ConditionReading, evaluateCondition } from './evaluate-condition';
import { failurePhrase } from './failure-phrase';
import { placeInState, type Results } from './result-place';

/** Amounts that are asked for and are not among the stages, mm from neutral. */
export function extraActivations({ requirements, design }: ResolvedAppliance): number[] {
  const stages = design?.activation?.stages ?? [];
  const asked = requirements.flatMap(({ activation }) => activation ?? []);
  return [...new Set(asked)].filter((amount) => !stages.some((stage) => isSameAmount(stage, amount)));
}

export function isSameAmount(a: number, b: number): boolean {
  return Math.abs(a - b) < 1e-9;
}

interface Checked {
  readonly verdict: Verdict;
  readonly what: string | undefined;
}

export function checkRequirements(
  evaluated: Results,
  text: string,
  preferences: UnitPreferences,
): { readonly verdicts: Verdict[]; readonly problems: Problem[] } {
  const checked = evaluated.appliance.requirements.flatMap((requirement) =>
    requirement.node.conditions.flatMap((condition) =>
      condition.test ? [checkCondition(requirement, condition, evaluated, text, preferences)] : [],
    ),
  );
  return {
    verdicts: checked.map(({ verdict }) => verdict),
    problems: checked.flatMap((one) => problemOf(one) ?? []),
  };
}

function checkCondition(
  requirement: ResolvedRequirement,
  condition: Condition,
  evaluated: Results,
  text: string,
  preferences: UnitPreferences,
): Checked {
  const readings = statesFor(requirement, evaluated).map(({ activation, state, reason, over }) => {
    if (!state || !condition.test) return { activation, over, reading: withoutState(reason) };
    const reasons: string[] = [];
    const place = placeInState(evaluated, state, text, reasons, over);
    return { activation, over, reading: evaluateCondition(condition.test, place, reasons) };
  });
  // The worst one decides; of equals, the first.
  const worst = readings.reduce((least, one) => (isWorse(one.reading, least.reading) ? one : least));
  const { reading } = worst;
  const [actualText, expectedText] = figureTexts(reading, preferences);
  const span = condition.test?.span ?? condition.span;
  return {
    what: reading.what,
    verdict: {
      requirement,
      condition,
      severity: requirement.node.severity === 'require' ? 'error' : 'warning',
      activation: worst.activation,
      ...(worst.over?.point && { week: weekOf(worst.over.point.time) }),
      outcome: reading.outcome,
      text: text.slice(span.start, span.end),
      actual: reading.actual,
      actualText,
      expectedText,
      marginText: marginText(reading, preferences),
      reason: reading.reason,
      because: condition.because?.value,
    },
  };
}

interface StateAtStage {
  readonly activation: number | undefined;
  readonly state: EngagedState | undefined;
  readonly reason: string | undefined;
  readonly over?: { readonly point: CoursePoint; readonly course: Course };
}

function statesFor(
  { stage, activation }: ResolvedRequirement,
  { appliance: { design }, analysis, plan }: Results,
): StateAtStage[] {
  if (stage === 'visits') return statesOverVisits(plan);
  const broken = analysis.failure && failurePhrase(analysis.failure);
  const atStage = (result: StageResult): StateAtStage => ({
    activation: design?.activation ? result.activation : undefined,
    state: result.state,
    reason: result.failure ? failurePhrase(result.failure) : broken,
  });
  const missing: StateAtStage = { activation, state: undefined, reason: broken ?? 'no equilibrium was found there' };
  if (stage === 'neutral') return [{ activation: 0, state: analysis.neutral, reason: missing.reason }];
  const declared = analysis.stages.slice(0, design?.activation?.stages.length ?? 1);
  const results =
    stage === 'at'
      ? analysis.stages.filter((one) => isSameAmount(one.activation, activation ?? 0)).slice(0, 1)
      : declared;
  return results.length > 0 ? results.map(atStage) : [missing];
}

/** Every point of the usual course. */
function statesOverVisits(plan: Results['plan']): StateAtStage[] {
  if (plan === undefined || 'reason' in plan) {
    const reason = plan ? failurePhrase(plan) : 'what becomes of the teeth is not known';
    return [{ activation: undefined, state: undefined, reason }];
  }
  const course = plan.usual;
  return course.points.map((point) => ({
    activation: undefined,
    state: point.state,
    reason: undefined,
    over: { point, course },
  }));
}

function withoutState(reason: string | undefined): ConditionReading {
  return {
    outcome: 'not-evaluable',
    margin: Number.NEGATIVE_INFINITY,
    what: undefined,
    actual: undefined,
    bound: undefined,
    reason: reason ?? 'no equilibrium was found there',
  };
}

const BADNESS: Readonly<Record<ConditionReading['outcome'], number>> = { met: 0, missed: 1, 'not-evaluable': 2 };

function isWorse(a: ConditionReading, b: ConditionReading): boolean {
  return BADNESS[a.outcome] > BADNESS[b.outcome] || (a.outcome === b.outcome && a.margin < b.margin);
}

/** Value and expectation, with digits enough to tell a miss from a pass. */
function figureTexts(
  { actual, bound }: ConditionReading,
  preferences: UnitPreferences,
): readonly [string | undefined, string | undefined] {
  if (!actual || !bound) return [undefined, undefined];
  if (bound.kind !== 'range') {
    const [shown, limit] = formatApart(actual, bound.value, preferences);
    return [shown, `${COMPARISON_WORDS[bound.kind]}${limit}`];
  }
  const [shown] = formatApart(actual, actual.value < bound.low.value ? bound.low : bound.high, preferences);
  return [shown, `${formatQuantity(bound.low, preferences)} to ${formatQuantity(bound.high, preferences)}`];
}

/** With digits enough to tell it from none. */
function marginText({ actual, bound, margin }: ConditionReading, preferences: UnitPreferences): string | undefined {
  if (!actual || !bound || bound.kind === '==' || bound.kind === '!=') return undefined;
  if (margin === 0) return 'at its bound';
  const { dimension } = actual;
  const [size] = formatApart({ value: Math.abs(margin), dimension }, { value: 0, dimension }, preferences);
  return `${size} ${margin > 0 ? 'inside' : 'outside'}`;
}

const COMPARISON_WORDS: Readonly<Record<Exclude<Bound['kind'], 'range'>, string>> = {
  '<': 'less than ',
  '<=': 'at most ',
  '>': 'more than ',
  '>=': 'at least ',
  '==': 'exactly ',
  '!=': 'other than ',
};

function problemOf({ verdict, what }: Checked): Problem | undefined {
  const { condition, requirement, outcome, reason, text } = verdict;
  const span = condition.test?.span ?? condition.span;
  const where = whereOf(requirement, verdict);
  if (outcome === 'met') return undefined;
  if (outcome === 'not-evaluable') {
    const problem = requirementNotEvaluable.at(span, text, where, (reason ?? '').replace(/\.$/, ''));
    return { ...problem, severity: verdict.severity };
  }
  const miss = {
    text,
    what,
    actual: verdict.actualText,
    expected: verdict.expectedText,
    where,
    because: verdict.because,
  };
  return verdict.severity === 'error' ? requirementMissed.at(span, miss) : preferenceMissed.at(span, miss);
}

function whereOf({ stage }: ResolvedRequirement, { activation, week }: Verdict): string {
  if (week !== undefined) return ` in week ${Math.round(week)}`;
  if (stage === 'neutral') return ' at neutral';
  if (activation === undefined) return '';
  return ` at ${formatQuantity({ value: activation, dimension: LENGTH })}`;
}
