/** An appliance of a snapshot, or the whole of it, as a file for the editor to save. */
import type { UnitPreferences } from '#core/units/format';
import { fileEnds } from '#export/formats';
import type { Settings } from '#features/settings';
import { selfContained } from '#workspace/self-contained';
import type { Snapshot } from '#workspace/snapshot';
import { version } from '../../../package.json';
import type { ExportParams, ExportResult } from './protocol';

export async function exportResult(
  snapshot: Snapshot,
  { appliance, activation, format, paper, path, built }: ExportParams,
  { units }: Settings,
): Promise<ExportResult> {
  const { appliances, text, problems } = snapshot;
  const evaluated = appliances.find((one) => one.appliance.name === appliance) ?? appliances[0];
  if (!evaluated) return failed('This file has no appliance yet.');
  if (!evaluated.analysis || evaluated.stale) {
    const error = problems.find(({ severity }) => severity === 'error');
    return failed(error?.message ?? 'There is nothing to compute here yet.');
  }
  if (format === 'handout')
    return built ? handout(snapshot, path, units, built) : failed('The page to fill is missing.');
  // Loaded when it is first wanted: what writes pages is large, and no start-up is to wait for it.
  const { exportedFile } = await import('#sheet/exported-file');
  const bytes = await exportedFile({ evaluated, text, path, version, paper, format, units, activation });
  if (!bytes) return failed('Nothing is activated here, so that there are no curves.');
  const name = `${evaluated.appliance.name}${fileEnds[format]}`;
  return { file: { name, base64: base64(bytes) }, failure: undefined };
}

async function handout(
  snapshot: Snapshot,
  path: string,
  units: UnitPreferences,
  built: NonNullable<ExportParams['built']>,
): Promise<ExportResult> {
  const { handoutPage } = await import('#sheet/handout');
  const name = path.slice(path.lastIndexOf('/') + 1);
  const { text } = snapshot;
  const page = await handoutPage({ name, text, units: units.force, ...selfContained(snapshot), ...built });
  return {
    file: { name: `${name.replace(/\.spring$/, '')}.html`, base64: base64(new TextEncoder().encode(page)) },
    failure: undefined,
  };
}

function failed(failure: string): ExportResult {
  return { file: undefined, failure };
}

/** Messages carry text only. */
function base64(bytes: Uint8Array): string {
  let letters = '';
  for (let at = 0; at < bytes.length; at += CHUNK) letters += String.fromCharCode(...bytes.subarray(at, at + CHUNK));
  return btoa(letters);
}

/** As many arguments as any engine takes. */
const CHUNK = 8192;
