/** Inlay hints at the line's end: a few items a line, everything else in the tooltip. */
import type { InlayHint, Range } from 'vscode-languageserver-types';
import type { Snapshot } from '#workspace/snapshot';
import { groupBy } from './group-by';
import { lineEnd, positionAt } from './positions';
import { activationReadings } from './readings/activation';
import { attachmentReadings } from './readings/attachment';
import { bandReadings } from './readings/bands';
import { gaugeReadings } from './readings/gauge';
import { groupReadings } from './readings/group';
import { loadReadings } from './readings/load';
import { loopReadings } from './readings/loop';
import { pathReadings } from './readings/path';
import type { Reading } from './readings/reading';
import { requirementReadings } from './readings/requirement';
import { variantReadings } from './readings/variant';
import { visitReadings } from './readings/visits';
import type { Settings } from './settings';

export function provideInlayHints(snapshot: Snapshot, range: Range, settings: Settings): InlayHint[] {
  const lines = groupBy(
    allReadings(snapshot, settings).filter(({ kind }) => settings.hints[kind]),
    ({ span, line }) => positionAt(snapshot, line === 'first' ? span.start : span.end).line,
  );
  return [...lines]
    .filter(([line]) => line >= range.start.line && line <= range.end.line)
    .sort(([left], [right]) => left - right)
    .flatMap(([line, readings]) => hintOf(snapshot, line, readings, settings) ?? []);
}

/** Everything there is to say beside the lines of the file, the most wanted of a line first. */
export function allReadings(snapshot: Snapshot, settings: Settings): Reading[] {
  return snapshot.appliances
    .filter(({ appliance }) => snapshot.file.appliances.includes(appliance))
    .flatMap((evaluated) =>
      evaluated.appliance.variant
        ? variantReadings(evaluated, settings)
        : [
            ...bandReadings(evaluated, settings),
            ...pathReadings(evaluated.appliance),
            ...loopReadings(evaluated),
            ...attachmentReadings(evaluated, settings),
            ...loadReadings(evaluated, settings),
            ...groupReadings(evaluated, settings),
            ...visitReadings(evaluated, settings),
            ...activationReadings(evaluated, settings),
            ...gaugeReadings(evaluated, settings),
            ...requirementReadings(evaluated),
          ],
    );
}

function hintOf(
  snapshot: Snapshot,
  line: number,
  readings: readonly Reading[],
  { hintsPerLine }: Settings,
): InlayHint | undefined {
  const shown = readings.filter(({ text }) => text !== undefined).slice(0, hintsPerLine);
  if (shown.length === 0) return undefined;
  const stale = shown.some((reading) => reading.stale);
  const details = readings.map(({ detail }) => detail).filter((detail) => detail !== '');
  if (stale) details.unshift('Of the last whole text: the file has an error that stops a new result.');
  return {
    position: lineEnd(snapshot, line),
    label: `${stale ? 'earlier: ' : ''}${steady(shown.map(({ text }) => text).join(separator))}`,
    tooltip: { kind: 'markdown', value: details.join('\n\n') },
    paddingLeft: true,
  };
}

const separator = ' · ';

/** As many characters as the longest number of a reading has: four digits and a point. */
const longestNumber = 5;

/** What follows a number stays in its column while the number changes: figure spaces stand for missing digits. */
function steady(label: string): string {
  const parts = label.split(separator);
  return parts
    .map((part, index) => {
      if (index === parts.length - 1) return part;
      const numbers = part.match(/\d+(?:\.\d+)?/g) ?? [];
      const missing = numbers.reduce((sum, number) => sum + Math.max(0, longestNumber - number.length), 0);
      return part + '\u2007'.repeat(missing);
    })
    .join(separator);
}
