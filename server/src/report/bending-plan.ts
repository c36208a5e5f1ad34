/** The bending plan as the report carries it: mm and deg. */
import {
  type BendingPlan,
  type BendingPlanOptions,
  bendingPlan,
  type PlannedBend,
  type PlanWarning,
} from '#model/bending/bending-plan';
import type { EvaluatedAppliance } from '#model/resolved';
import type { ReportPlan, ReportPlannedBend } from './plan-schema';
import { rounded } from './rounded';
import type { TextPosition } from './text-position';

/** Null where there is no wire. */
export function reportPlan(
  evaluated: EvaluatedAppliance,
  at: (offset: number) => TextPosition,
  options: BendingPlanOptions,
): ReportPlan | null {
  const plan = bendingPlan(evaluated, options);
  return plan === undefined ? null : planFigures(plan, at);
}

export function planFigures(plan: BendingPlan, at: (offset: number) => TextPosition): ReportPlan {
  return {
    cutLength: rounded(plan.cutLength),
    holding: plan.options.holding,
    beakWidth: plan.options.beakWidth,
    lengthStep: plan.lengthStep,
    angleStep: inDegrees(plan.angleStep),
    deviation: { distance: rounded(plan.deviation.distance), angle: inDegrees(plan.deviation.angle) },
    lead: rounded(plan.lead),
    bends: plan.bends.map((bend, index) => plannedBend(bend, index, at)),
    order: plan.order.map(({ stage, reference, bends }) => ({
      stage,
      from: reference.at,
      loop: reference.name ?? null,
      fromEnd: rounded(reference.station),
      bends: bends.map(number),
    })),
    trialActivation: plan.trialActivation === undefined ? null : rounded(plan.trialActivation),
    warnings: plan.warnings.map(warning),
  };
}

function plannedBend(bend: PlannedBend, index: number, at: (offset: number) => TextPosition): ReportPlannedBend {
  const { step, load, radius, innerRadius } = bend;
  return {
    number: number(index),
    kind: bend.kind,
    preactivation: bend.preactivation,
    follows: step?.kind === 'follow',
    line: step === undefined ? null : at(step.pathSpan.start).line,
    direction: step?.direction ?? null,
    fromEnd: rounded(bend.fromEnd),
    fromMiddle: rounded(bend.fromMiddle),
    before: rounded(bend.before),
    roll: inDegrees(bend.roll),
    angle: inDegrees(bend.angle),
    radius: radius === undefined ? null : rounded(radius),
    innerRadius: innerRadius === undefined ? null : rounded(innerRadius),
    pitch: rounded(bend.pitch),
    length: rounded(bend.length),
    toNext: rounded(bend.toNext),
    load: load
      ? {
          angle: inDegrees(load.angle),
          innerRadius: rounded(load.innerRadius),
          back: load.back === undefined ? null : inDegrees(load.back),
        }
      : null,
  };
}

function warning(one: PlanWarning): ReportPlan['warnings'][number] {
  if (one.kind === 'close') return { kind: 'close', bends: one.bends.map(number), straight: rounded(one.straight) };
  return {
    kind: 'opened',
    bends: [number(one.bend)],
    by: inDegrees(one.by),
    activation: rounded(one.activation),
  };
}

/** Bends are counted from 1. */
const number = (index: number): number => index + 1;

function inDegrees(angle: number): number {
  return rounded((angle * 180) / Math.PI);
}
