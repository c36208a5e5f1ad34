/** Reading at the wire's line: what the results rest on besides the shape, and on whose word. */
import { formatQuantity } from '#core/units/format';
import { assumptionsOf } from '#model/assumptions';
import type { ResolvedAppliance } from '#model/resolved';
import { provenanceText } from '../documentation/provenance';
import type { Reading } from './reading';

export function assumptionReadings(appliance: ResolvedAppliance): Reading[] {
  const wire = appliance.node.members.find((member) => member.kind === 'wire');
  const assumptions = assumptionsOf(appliance);
  if (wire === undefined || assumptions.length === 0) return [];
  const rows = assumptions.map(({ name, kind, value, range, ...source }) => {
    const size = `${kind === 'tolerance' ? '± ' : ''}${formatQuantity(value)}`;
    const spread = range === undefined ? '' : ` (${formatQuantity(range.low)} .. ${formatQuantity(range.high)})`;
    return `| ${name} | ${size}${spread} | ${provenanceText(source)} |`;
  });
  const detail = ['What the results rest on:', '', '| | | |', '| --- | --- | --- |', ...rows].join('\n');
  return [{ span: wire.span, line: 'last', kind: 'bands', text: undefined, detail, stale: false }];
}
