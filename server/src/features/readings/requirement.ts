/** Readings at a condition: what it actually comes to and whether it holds. */
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Verdict } from '#model/resolved';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Reading } from './reading';

export function requirementReadings({ verdicts, stale }: SnapshotAppliance): Reading[] {
  return verdicts.map((verdict) => ({
    ...{ span: verdict.condition.span, line: 'last', kind: 'requirements', stale },
    text: verdictText(verdict),
    detail: verdictDetail(verdict),
  }));
}

function verdictText({ outcome, actualText }: Verdict): string {
  if (outcome === 'not-evaluable') return '? not evaluable';
  return `${outcome === 'met' ? '✓' : '✗'}${actualText === undefined ? '' : ` ${actualText}`}`;
}

function verdictDetail({ outcome, actualText, expectedText, activation, week, reason, because }: Verdict): string {
  const at =
    week !== undefined
      ? ` in week ${Math.round(week)}`
      : activation === undefined
        ? ''
        : ` at ${formatQuantity({ value: activation, dimension: LENGTH })} from neutral`;
  const words = { met: 'Met', missed: 'Missed', 'not-evaluable': 'Not evaluable' }[outcome];
  const is = actualText === undefined ? '' : `: ${actualText}`;
  const asked = expectedText === undefined ? '' : `, asked for ${expectedText}`;
  const lines = [`${words}${at}${is}${asked}.`, reason, because];
  return lines.filter((line) => line !== undefined).join('\n\n');
}
