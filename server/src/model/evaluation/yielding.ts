/** What is to be said of a wire that leaves its elastic range or was pulled on trial. */
import type { ApplianceAnalysis, EngagedState, TrialActivation, Yielding } from '#core/analysis/analysis';
import { takesSet } from '#core/analysis/wire-laws';
import type { ApplianceDesign } from '#core/design';
import { ANGLE, LENGTH, NUMBER } from '#core/units/dimension';
import { formatApart, formatQuantity } from '#core/units/format';
import type { Span } from '#grammar/tree';
import { headOf } from '../appliance/context';
import { furtherSet } from '../diagnostics/further-set';
import { loadedAgainstBend } from '../diagnostics/loaded-against-bend';
import { stressPastYield, type TrialOutcome } from '../diagnostics/stress-past-yield';
import { trialNotFollowed } from '../diagnostics/trial-not-followed';
import type { Problem } from '../problem';
import { DEFAULTS } from '../provenance';
import type { ResolvedAppliance } from '../resolved';
import { stockAt } from '../stock';
import { failurePhrase } from './failure-phrase';
import { isSameAmount } from './verdicts';

export function yieldingProblems(
  appliance: ResolvedAppliance,
  analysis: ApplianceAnalysis,
  workingActivation: number,
  text: string,
): Problem[] {
  const { design, node } = appliance;
  if (!design) return [];
  const lineOf = (kind: 'trial' | 'wire'): Span =>
    headOf((node.members.find((member) => member.kind === kind) ?? node).span, text);
  const { unfollowed, yielding } = analysis;
  const notFollowed =
    unfollowed && design.trialActivation !== undefined
      ? [trialNotFollowed.at(lineOf('trial'), length(design.trialActivation), failurePhrase(unfollowed))]
      : [];
  if (yielding?.stages === 'after-trial') return beyondTrial(analysis, workingActivation, lineOf('trial'));
  // A superelastic wire on its plateau does what it is made for.
  if (yielding && !takesSet(design)) return notFollowed;
  return [...notFollowed, ...pastYield(appliance, analysis, workingActivation, lineOf('wire'))];
}

/** At the working activation where it is past yield there, else at the worst stage. */
function pastYield(
  { design }: ResolvedAppliance,
  analysis: ApplianceAnalysis,
  workingActivation: number,
  span: Span,
): Problem[] {
  if (!design) return [];
  const over = analysis.stages.filter(({ state }) => state && state.elasticUse > 1);
  const shown =
    over.find(({ activation }) => isSameAmount(activation, workingActivation)) ??
    over.reduce<(typeof over)[number] | undefined>(
      (worst, one) => (stressOf(one.state) > stressOf(worst?.state) ? one : worst),
      undefined,
    );
  if (!shown?.state) return [];
  const [use] = formatApart({ value: shown.state.elasticUse, dimension: NUMBER }, { value: 1, dimension: NUMBER });
  const when = design.activation ? length(shown.activation) : 'rest in its attachments';
  const { firstYield } = analysis;
  const since = design.activation && firstYield ? length(firstYield) : undefined;
  const { yielding } = analysis;
  const trial = yielding?.trial && outcomeOf(yielding.first.neutral, yielding.trial, design.activation !== undefined);
  if (!isAgainstBend(shown.state, design)) return [stressPastYield.at(span, use, when, since, trial)];
  return yielding && !isWorthTelling(yielding) ? [] : [loadedAgainstBend.at(span, use, when, since, trial)];
}

/** Whether it sets by more than a tenth of what careful bending leaves uncertain anyway, once that is known. */
function isWorthTelling({ first, trial, failure }: Yielding): boolean {
  if (!trial) return failure !== undefined;
  const [turn, length] = [DEFAULTS.bend, DEFAULTS.straight].map(({ value }) => value.value / 10);
  return trial.setTurn > turn || Math.abs(trial.neutral.motion - first.neutral.motion) > length;
}

/** Nowhere past the yield strength itself. */
function isAgainstBend({ stress, stressStation }: EngagedState, design: ApplianceDesign): boolean {
  return stress <= stockAt(design, stressStation).alloy.yield;
}

function outcomeOf(before: EngagedState, trial: TrialActivation, activated: boolean): TrialOutcome {
  const { largestWithoutSet } = trial;
  return {
    amount: activated && trial.amount > 0 ? length(trial.amount) : undefined,
    before: length(before.motion),
    after: length(trial.neutral.motion),
    turn: formatQuantity({ value: trial.setTurn, dimension: ANGLE }),
    room: largestWithoutSet === undefined ? undefined : length(largestWithoutSet),
  };
}

/** Stages at which the wire yields again. */
function beyondTrial({ yielding, stages }: ApplianceAnalysis, workingActivation: number, span: Span): Problem[] {
  const room = yielding?.trial?.largestWithoutSet;
  if (room === undefined) return [];
  const over = stages.filter(({ state, activation }) => state && activation > room + LEAST);
  const shown = over.find(({ activation }) => isSameAmount(activation, workingActivation)) ?? over[0];
  return shown ? [furtherSet.at(span, length(shown.activation), length(room))] : [];
}

/** mm */
const LEAST = 0.01;

function stressOf(state: EngagedState | undefined): number {
  return state?.stress ?? 0;
}

function length(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}
