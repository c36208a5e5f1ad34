/** What a variant comes to, beside its own line: the body that it shares shows the appliance itself. */
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';
import { attachmentReadings } from './attachment';
import type { Reading } from './reading';

export function variantReadings(evaluated: SnapshotAppliance, settings: Settings): Reading[] {
  const { appliance, design, verdicts, stale } = evaluated;
  const { variant } = appliance;
  if (variant?.name === undefined || design === undefined) return [];
  const here = { span: variant.name.span, line: 'first', stale } as const;
  const readings = attachmentReadings(evaluated, settings);
  // The tooth that is moved or pulled at; without an activation the last one along the wire.
  const shown = design.attachments[design.activation?.motion.attachment ?? design.attachments.length - 1]?.name;
  const span = appliance.attachments.find(({ name }) => name === shown)?.node.span;
  const force = readings.find((reading) => reading.span === span && reading.kind === 'forces')?.text;
  const met = verdicts.filter(({ outcome }) => outcome === 'met').length;
  const details = readings.map(({ detail }) => detail).filter((detail) => detail !== '');
  return [
    {
      ...{ ...here, kind: 'forces' },
      text: force === undefined ? undefined : `${shown} ${force}`,
      detail: details.join('\n\n'),
    },
    {
      ...{ ...here, kind: 'requirements', detail: '' },
      text: verdicts.length === 0 ? undefined : `${met} of ${verdicts.length} met`,
    },
  ];
}
