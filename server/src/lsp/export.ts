/** An appliance of a snapshot as a file for the editor to save. */

import { fileEnds } from '#export/formats';
import type { Settings } from '#features/settings';
import type { Snapshot } from '#workspace/snapshot';
import { version } from '../../../package.json';
import type { ExportParams, ExportResult } from './protocol';

export async function exportResult(
  { appliances, text, problems }: Snapshot,
  { appliance, activation, format, paper, path }: ExportParams,
  { units }: Settings,
): Promise<ExportResult> {
  const evaluated = appliances.find((one) => one.appliance.name === appliance) ?? appliances[0];
  if (!evaluated) return failed('This file has no appliance yet.');
  if (!evaluated.analysis || evaluated.stale) {
    const error = problems.find(({ severity }) => severity === 'error');
    return failed(error?.message ?? 'There is nothing to compute here yet.');
  }
  // Loaded when it is first wanted: what writes pages is large, and no start-up is to wait for it.
  const { exportedFile } = await import('#sheet/exported-file');
  const bytes = await exportedFile({ evaluated, text, path, version, paper, format, units, activation });
  if (!bytes) return failed('Nothing is activated here, so that there are no curves.');
  const name = `${evaluated.appliance.name}${fileEnds[format]}`;
  return { file: { name, base64: base64(bytes) }, failure: undefined };
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
