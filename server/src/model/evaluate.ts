/** An appliance with its mechanics: one analysis, held against the requirements. */
import { analyseAppliance } from '#core/analysis/analyse';
import type { AnalysisOptions, ApplianceAnalysis } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { DEFAULT_PREFERENCES, type UnitPreferences } from '#core/units/format';
import { atVariant } from './appliance/variant';
import { furtherWires, together } from './evaluation/auxiliaries';
import { failureProblems } from './evaluation/failures';
import { correctByGauge } from './evaluation/gauge';
import { observations } from './evaluation/observations';
import { checkRequirements, extraActivations } from './evaluation/verdicts';
import { visitProblems } from './evaluation/visits';
import type { Problem } from './problem';
import type { EvaluatedAppliance, ResolvedAppliance } from './resolved';
import { visitPlan } from './visit-plan';

export interface EvaluationOptions {
  /** How the mechanics is reached: directly, or through a cache by `designKey`. */
  readonly analyse: (design: ApplianceDesign, options: Partial<AnalysisOptions>) => ApplianceAnalysis;
  readonly preferences: UnitPreferences;
  /** Whether visits are followed; without it nothing is known of what becomes of the teeth. */
  readonly visits: boolean;
}

/** `text` is that of the appliance's file. */
export function evaluateAppliance(
  appliance: ResolvedAppliance,
  text: string,
  { analyse = analyseAppliance, preferences = DEFAULT_PREFERENCES, visits = true }: Partial<EvaluationOptions> = {},
): EvaluatedAppliance {
  const workingActivation = workingActivationOf(appliance);
  if (!appliance.design)
    return { appliance, analysis: undefined, workingActivation, verdicts: [], further: [], problems: [] };
  const gauged = correctByGauge(appliance, appliance.design, analyse, preferences);
  const design = gauged.gauged?.design ?? appliance.design;
  const own = analyse(design, { extraActivations: extraActivations(appliance) });
  const further = furtherWires(appliance, design, own, analyse);
  const analysis = together(appliance, design, own, further);
  const plan = visits ? visitPlan(appliance, design, own, further, text) : undefined;
  const { verdicts, problems } = checkRequirements({ appliance, analysis, further, plan }, text, preferences);
  return {
    appliance,
    analysis,
    workingActivation,
    verdicts,
    further,
    ...(plan && { plan }),
    ...(gauged.gauged && { gauged: gauged.gauged }),
    problems: atItsPlace(appliance, [
      ...gauged.problems,
      ...failureProblems(appliance, analysis, text),
      ...visitProblems(appliance, plan, text, preferences),
      ...observations(appliance, analysis, workingActivation ?? 0, text, preferences),
      ...problems,
    ]),
  };
}

/** What a variant comes to is told at its name, not in the body that it shares. */
function atItsPlace({ variant, uri }: ResolvedAppliance, problems: readonly Problem[]): readonly Problem[] {
  return variant ? problems.map((problem) => atVariant(problem, variant, uri)) : problems;
}

function workingActivationOf({ requirements, design }: ResolvedAppliance): number | undefined {
  const asked = requirements.find(({ activation }) => activation !== undefined)?.activation;
  if (asked !== undefined) return asked;
  // Without an activation the appliance is simply engaged.
  return design && (design.activation?.stages.at(-1) ?? 0);
}
