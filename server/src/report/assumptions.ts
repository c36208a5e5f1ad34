/** What results rest on, for the report and as text. */
import { formatQuantity } from '#core/units/format';
import type { Assumption, Provenance } from '#model/provenance';
import type { ReportAssumption } from './schema';
import { table } from './table';

export function reportAssumption({ name, kind, value, range, state, reference }: Assumption): ReportAssumption {
  return {
    ...{ name, kind, value: formatQuantity(value) },
    low: range === undefined ? null : formatQuantity(range.low),
    high: range === undefined ? null : formatQuantity(range.high),
    ...{ state, reference: reference ?? null },
  };
}

export function assumptionLines(assumptions: readonly ReportAssumption[]): string[] {
  if (assumptions.length === 0) return [];
  const rows = assumptions.map(({ name, kind, value, low, high, state, reference }) => {
    const range = low === null || high === null ? '' : ` (${low} .. ${high})`;
    return [name, `${kind === 'tolerance' ? '± ' : ''}${value}${range}`, sourceWords(state, reference)];
  });
  return ['', '  Assumptions', ...table(rows, ['<', '<', '<'], '    ')];
}

/** "from memory: …" */
export function sourceWords(state: Provenance['state'], reference: string | null | undefined): string {
  return reference ? `${STATES[state]}: ${reference}` : STATES[state];
}

const STATES: Readonly<Record<Provenance['state'], string>> = {
  found: 'found',
  memory: 'from memory',
  practice: 'common practice',
  computed: 'computed',
  unstated: 'no source stated',
};
