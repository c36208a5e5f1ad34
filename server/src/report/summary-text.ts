/** What a run came to, in one line. */
import type { AnalyzeReport, CheckReport } from './schema';

export function summaryText({ summary }: CheckReport | AnalyzeReport): string {
  const { met, missed, notEvaluable } = summary.requirements;
  const parts = [
    count(summary.files, 'file'),
    count(summary.appliances, 'appliance'),
    `${count(met + missed + notEvaluable, 'requirement')}: ${met} met${missed > 0 ? `, ${missed} missed` : ''}${
      notEvaluable > 0 ? `, ${notEvaluable} not evaluable` : ''
    }`,
    count(summary.errors, 'error'),
    count(summary.warnings, 'warning'),
    ...(summary.silenced > 0 ? [`${summary.silenced} silenced`] : []),
  ];
  return parts.join('; ');
}

function count(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? '' : 's'}`;
}
