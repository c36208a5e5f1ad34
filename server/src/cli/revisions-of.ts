/** The appliances of one file, computed to be compared. */
import type { UnitPreferences } from '#core/units/format';
import type { Revision } from '#report/comparison';
import { revisionsIn } from '#report/revisions';
import type { FileSource } from './file-source';
import { fileWorkspace, obstacle } from './file-workspace';
import type { CliHost } from './run-report';

/** None where there is no such file, or one line on what keeps them from being compared. */
export async function revisionsOf(
  path: string,
  source: FileSource,
  units: UnitPreferences,
  version: string,
  host: CliHost,
): Promise<readonly Revision[] | { readonly obstacle: string }> {
  const shown = source.shown(path);
  const content = await source.readFile(path);
  if (content === undefined) return [];
  if ('unreadable' in content) return { obstacle: `${shown}: error: ${content.unreadable}\n` };
  const workspace = fileWorkspace(source.readFile, host);
  const uri = host.uriOf(path);
  workspace.open(uri, content.text, 1);
  host.progress(shown);
  const snapshot = await workspace.snapshot(uri, units);
  host.progress(undefined);
  if (snapshot === undefined) throw new Error(`The workspace lost a document that is open: ${shown}`);
  const mistake = obstacle(shown, snapshot);
  if (mistake !== undefined) return { obstacle: mistake };
  return revisionsIn(shown, content.text, snapshot.appliances, version);
}
