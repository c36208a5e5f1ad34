/** Reading at a gauge's line: the modulus that it asks for. */
import { FORCE, STRESS } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';
import type { Reading } from './reading';

export function gaugeReadings({ appliance, gauged, stale }: SnapshotAppliance, { units }: Settings): Reading[] {
  if (!appliance.gauge || !gauged) return [];
  const stress = (value: number) => formatQuantity({ value, dimension: STRESS });
  const computed = formatQuantity({ value: gauged.computed, dimension: FORCE }, units);
  return [
    {
      ...{ span: appliance.gauge.node.span, line: 'last', kind: 'stiffness', stale },
      text: `modulus ${stress(gauged.corrected)}`,
      detail: `With the modulus that the alloy states, ${stress(gauged.stated)}, the elastic wire would give ${computed} there. Everything shown is computed with **${stress(gauged.corrected)}**, which gives the reading.`,
    },
  ];
}
