/** Readings at the visits: how long it takes, and what is found and done at each. */
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { closingWords } from '#model/visit-words';
import { reportVisits } from '#report/tooth-response';
import { visitRowsOf } from '#report/tooth-response-text';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';
import type { Reading } from './reading';

export function visitReadings(evaluated: SnapshotAppliance, { units }: Settings): Reading[] {
  const { appliance, plan, stale } = evaluated;
  const { visits } = appliance;
  const followed = reportVisits(evaluated);
  if (!visits || !followed || !plan || 'reason' in plan) return [];
  const [head, ...rows] = visitRowsOf(followed, units);
  const left = plan.others.map(({ what }) => what);
  return [
    {
      ...{ span: visits.node.span, line: 'last', kind: 'groups', stale },
      text: closingWords(plan),
      detail: [
        `**Over the visits**: ${closingWords(plan)}; ${formatQuantity({ value: plan.usual.points.at(-1)?.closed ?? 0, dimension: LENGTH })} closed at the end.`,
        [head, head.map(() => '---:'), ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n'),
        left.length > 0
          ? 'In brackets: at the ends of the range of rates, and with friction where the wire rubs.'
          : undefined,
        'An estimate for planning, not a prescription: rates differ from person to person. What is found at the visit decides.',
      ]
        .filter((block) => block !== undefined)
        .join('\n\n'),
    },
  ];
}
