/** Readings at the activation line: where neutral is and how stiff the spring is at the working activation. */
import type { Band } from '#core/analysis/uncertainty';
import { LENGTH, STIFFNESS } from '#core/units/dimension';
import { formatBand, formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { Bands } from '#model/bands';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';
import { causes } from './bands';
import { type Reading, workingStageIndex } from './reading';
import { yieldingReadings } from './yielding';

export function activationReadings(evaluated: SnapshotAppliance, { units }: Settings): Reading[] {
  const { analysis, appliance, workingActivation, stale, bands } = evaluated;
  const node = appliance.node.members.find((member) => member.kind === 'activation');
  if (analysis === undefined || node === undefined) return [];
  const here = { span: node.span, line: 'last', stale } as const;
  const readings: Reading[] = [];
  if (analysis.neutral !== undefined) {
    const motion = formatLength(analysis.neutral.motion);
    const name = node.motion === 'pull' ? 'drawn through' : 'moved';
    readings.push({
      ...{ ...here, kind: 'neutral', text: `neutral at ${motion}` },
      detail: `Neutral, the position without force along the activation, is reached with ${motion} ${name}. Activation counts from there.${spread(analysis.neutral.motion, LENGTH, bands?.bands.neutral, bands, units)}`,
    });
  }
  const stiffness = analysis.stiffness[workingStageIndex(analysis, workingActivation)];
  if (stiffness !== undefined) {
    const text = formatQuantity({ value: stiffness, dimension: STIFFNESS }, units);
    readings.push({
      ...{ ...here, kind: 'stiffness', text },
      detail: `Stiffness along the activation at ${formatLength(workingActivation ?? 0)} from neutral: ${text}.${spread(stiffness, STIFFNESS, bands?.bands.stiffness, bands, units)}`,
    });
  }
  readings.push(...yieldingReadings(evaluated));
  if (analysis.firstYield !== undefined && analysis.yielding?.stages !== 'after-trial') {
    const detail =
      analysis.firstYield > 0
        ? `The wire first yields at ${formatLength(analysis.firstYield)} from neutral.`
        : 'The wire is past yield at neutral already.';
    readings.push({ ...here, kind: 'stiffness', text: undefined, detail });
  }
  return readings;
}

/** Where about 19 of 20 wires lie, and why; nothing where there are no bands. */
function spread(
  value: number,
  dimension: Dimension,
  band: Band | undefined,
  bands: Bands | undefined,
  units: Settings['units'],
): string {
  if (band === undefined || bands === undefined) return '';
  return ` About 19 of 20 wires: ${formatBand({ value, dimension }, band, units)}. ${causes(band, bands)}`;
}

function formatLength(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}
