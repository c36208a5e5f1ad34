/** `compare`: what changed between two revisions of a file. */
import type { UnitPreferences } from '#core/units/format';
import { compareRevisions, type Revision } from '#report/comparison';
import { comparisonMarkdown, comparisonText } from '#report/comparison-text';
import { buildAnalyzeReport } from '#report/report';
import { createWorkspace } from '#workspace/workspace';
import { failed, ok, usageError } from './exit-codes';
import type { CliHost } from './run-report';

export interface CompareRequest {
  readonly before: string;
  readonly after: string;
  readonly format: 'text' | 'markdown';
  readonly units: UnitPreferences;
}

/** Prints what changed; the exit code tells whether a requirement that was met is not any more. */
export async function runCompare(request: CompareRequest, version: string, host: CliHost): Promise<number> {
  const revisions: (readonly Revision[])[] = [];
  for (const path of [request.before, request.after]) {
    const read = await revisionsOf(path, request.units, version, host);
    if (typeof read === 'number') return read;
    revisions.push(read);
  }
  const comparisons = compareRevisions(revisions[0], revisions[1], request.units);
  host.writeOut(
    request.format === 'markdown' ? comparisonMarkdown(comparisons) : comparisonText(comparisons, host.paint),
  );
  return comparisons.some(({ changes }) => changes.some(({ worse }) => worse)) ? failed : ok;
}

async function revisionsOf(
  path: string,
  units: UnitPreferences,
  version: string,
  host: CliHost,
): Promise<readonly Revision[] | number> {
  const { files, mistakes } = await host.findFiles([path]);
  if (mistakes.length > 0 || files.length !== 1) {
    host.writeErr(`${mistakes[0] ?? `Give one file: ${path} holds ${files.length}.`}\n`);
    return usageError;
  }
  const shown = host.displayPath(files[0]);
  const content = await host.readFile(files[0]);
  if ('unreadable' in content) {
    host.writeErr(`${shown}: error: ${content.unreadable}\n`);
    return failed;
  }
  const workspace = createWorkspace({
    readFile: async (uri) => {
      const result = await host.readFile(host.pathOf(uri));
      return 'text' in result ? result.text : undefined;
    },
  });
  const uri = host.uriOf(files[0]);
  workspace.open(uri, content.text, 1);
  const snapshot = await workspace.snapshot(uri, units);
  const problem = snapshot?.problems.find(({ code }) => code === 'syntax');
  if (snapshot === undefined || problem !== undefined) {
    host.writeErr(`${shown}: error: ${problem?.message ?? 'cannot be read.'} "springwright check" says where.\n`);
    return failed;
  }
  const { appliances } = snapshot;
  const report = buildAnalyzeReport([{ path: shown, text: content.text, problems: [], silenced: [], appliances }], {
    version,
    model: 'full',
  });
  return report.files[0].appliances.map((of, index) => ({ report: of, evaluated: appliances[index] }));
}
