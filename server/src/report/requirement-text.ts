import type { Paint } from './paint';
import { amount } from './quantities';
import type { ReportRequirement } from './schema';
import { table } from './table';

/** One line per condition: verdict, stage, condition, and actual against expected. */
export function requirementLines(
  requirements: readonly ReportRequirement[],
  paint: Paint,
  indent: string,
): readonly string[] {
  const rows = requirements.map((requirement) => [
    verdictWord(requirement),
    stageWords(requirement),
    requirement.condition.replace(/\s+/g, ' '),
    outcomeWords(requirement),
  ]);
  return table(rows, ['<', '<', '<', '<'], indent).map((line, index) => {
    const { outcome, kind } = requirements[index];
    const colour = outcome === 'met' ? paint.good : kind === 'prefer' ? paint.warning : paint.bad;
    const word = rows[index][0];
    return line.replace(word, colour(word));
  });
}

export function verdictWord({ outcome, kind }: ReportRequirement): string {
  if (outcome === 'met') return 'met';
  if (outcome === 'not-evaluable') return 'not evaluable';
  return kind === 'prefer' ? 'not preferred' : 'missed';
}

export function stageWords({ stage, activation }: ReportRequirement): string {
  if (stage === 'neutral') return 'at neutral';
  if (stage === 'engaged') return 'engaged';
  if (stage === 'visits') return 'over visits';
  if (activation === null) return stage === 'along' ? 'along activation' : 'at activation';
  return stage === 'along' ? `along, worst at ${amount(activation, 'length')}` : `at ${amount(activation, 'length')}`;
}

export function outcomeWords({ outcome, actual, expected, reason, because }: ReportRequirement): string {
  const purpose = outcome === 'met' || because === null ? '' : ` (${because})`;
  if (outcome === 'not-evaluable') return `${reason ?? 'has no value here'}${purpose}`;
  if (actual === null) return purpose.trim();
  if (outcome === 'met' || expected === null) return `is ${actual}${purpose}`;
  return `is ${actual}, expected ${expected}${purpose}`;
}
