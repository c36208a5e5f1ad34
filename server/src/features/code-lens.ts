/** Above each appliance: how many of its requirements are met, and its force system in one line. */
import type { CodeLens } from 'vscode-languageserver-types';
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Snapshot, SnapshotAppliance } from '#workspace/snapshot';
import { groupBy } from './group-by';
import { rangeOf } from './positions';
import { attachmentReadings } from './readings/attachment';
import { workingState } from './readings/reading';
import type { Settings } from './settings';

/** Opens the preview on a document (uri) and an appliance (name). */
export const openPreviewCommand = 'springwright.openPreview';

export function provideCodeLenses(snapshot: Snapshot, settings: Settings): CodeLens[] {
  return snapshot.appliances
    .filter(({ appliance }) => snapshot.file.appliances.includes(appliance))
    .flatMap((evaluated) => {
      const { node, variant, name } = evaluated.appliance;
      const written = (variant ?? node).name;
      if (written === undefined) return [];
      const range = rangeOf(snapshot, written.span);
      return [requirements(evaluated), forceSystem(evaluated, settings)].flatMap((text): CodeLens[] => {
        if (text === undefined) return [];
        const title = evaluated.stale ? `earlier: ${text}` : text;
        return [{ range, command: { title, command: openPreviewCommand, arguments: [snapshot.uri, name] } }];
      });
    });
}

/** "at 1.5 mm: molar 124 gf mesial · 1230 gf mm crown-distal; canine 124 gf distal" */
function forceSystem(evaluated: SnapshotAppliance, settings: Settings): string {
  const state = workingState(evaluated);
  if (state === undefined) return 'no force system yet';
  const attachments = groupBy(attachmentReadings(evaluated, settings), ({ span }) => span);
  const names = new Map(evaluated.appliance.attachments.map(({ node, name }) => [node.span, name]));
  const parts = [...attachments].flatMap(([span, readings]) => {
    const texts = readings.flatMap(({ text }) => text ?? []);
    return texts.length === 0 ? [] : [`${names.get(span)} ${texts.join(' · ')}`];
  });
  const at =
    evaluated.design?.activation === undefined
      ? 'engaged'
      : `at ${formatQuantity({ value: state.activation, dimension: LENGTH })}`;
  return `${at}: ${parts.length === 0 ? 'no force' : parts.join('; ')}`;
}

function requirements({ verdicts }: SnapshotAppliance): string | undefined {
  if (verdicts.length === 0) return undefined;
  const met = verdicts.filter(({ outcome }) => outcome === 'met').length;
  return `requirements: ${met} of ${verdicts.length} met`;
}
