/** `compare`: what changed between two revisions of a file. */
import type { UnitPreferences } from '#core/units/format';
import { type ComparisonLayout, drawComparison } from '#drawing/comparison';
import { standaloneDrawing } from '#drawing/standalone';
import type { FileText } from '#host/spring-file';
import { type Comparison, compareRevisions, isChanged, type Revision } from '#report/comparison';
import { comparisonMarkdown, comparisonText } from '#report/comparison-text';
import { buildAnalyzeReport } from '#report/report';
import { failed, ok, usageError } from './exit-codes';
import { fileWorkspace, obstacle } from './file-workspace';
import type { CliHost } from './run-report';

export interface CompareRequest {
  readonly before: string;
  readonly after: string;
  /** Of the repository that holds the file; as it lies on disk where it is absent. */
  readonly revision: string | undefined;
  readonly to: string | undefined;
  readonly format: 'text' | 'markdown';
  readonly units: UnitPreferences;
  /** Where to write the drawing of what changed. */
  readonly drawing: string | undefined;
  readonly layout: ComparisonLayout;
}

interface Side {
  readonly path: string;
  readonly revision: string | undefined;
}

/** Prints what changed; the exit code tells whether a requirement that was met is not any more. */
export async function runCompare(request: CompareRequest, version: string, host: CliHost): Promise<number> {
  const sides: readonly [Side, Side] = [
    { path: request.before, revision: request.revision },
    { path: request.after, revision: request.to },
  ];
  const read: (readonly Revision[] | undefined)[] = [];
  for (const side of sides) {
    const file = await fileOf(side, sides, host);
    if (typeof file === 'number') return file;
    const revisions = file && (await revisionsOf(file, request.units, version, host));
    if (typeof revisions === 'number') return revisions;
    read.push(revisions);
  }
  const [before, after] = read;
  if (before === undefined && after === undefined) {
    const where = sides.map(({ revision }) => revision ?? 'the working folder');
    host.writeErr(`No such file: ${request.after} is neither in ${where[0]} nor in ${where[1]}.\n`);
    return usageError;
  }
  const comparisons = compareRevisions(before ?? [], after ?? [], request.units);
  const changed = comparisons.filter(isChanged);
  const svg = request.drawing === undefined ? undefined : drawingOf(changed, before ?? [], after ?? [], request);
  if (request.drawing !== undefined && svg !== undefined) {
    const mistake = await host.writeFile(request.drawing, new TextEncoder().encode(standaloneDrawing(svg)));
    if (mistake !== undefined) {
      host.writeErr(`${request.drawing} ${mistake}\n`);
      return usageError;
    }
  }
  host.writeOut(
    request.format === 'markdown'
      ? comparisonMarkdown(comparisons, svg === undefined ? undefined : request.drawing)
      : comparisonText(comparisons, host.paint),
  );
  return changed.some(({ changes }) => changes.some(({ worse }) => worse)) ? failed : ok;
}

function drawingOf(
  changed: readonly Comparison[],
  before: readonly Revision[],
  after: readonly Revision[],
  { layout, units }: CompareRequest,
): string | undefined {
  const named = (revisions: readonly Revision[], name: string) =>
    revisions.find(({ report }) => report.name === name)?.evaluated;
  const pairs = changed.map(({ name }) => ({ name, before: named(before, name), after: named(after, name) }));
  return drawComparison(pairs, layout, units);
}

/** One text with the way to what it uses. */
interface File {
  readonly path: string;
  readonly shown: string;
  readonly text: string;
  readFile(path: string): Promise<FileText | undefined>;
}

/** Undefined where a file that is asked for by revision is not there; a number is the exit code, with the mistake told. */
async function fileOf(
  { path, revision }: Side,
  sides: readonly Side[],
  host: CliHost,
): Promise<File | number | undefined> {
  const byRevision = sides.some((side) => side.revision !== undefined);
  if (byRevision && !path.endsWith('.spring')) {
    host.writeErr(`Not a .spring file: ${path}. Revisions are compared file by file.\n`);
    return usageError;
  }
  if (revision === undefined) {
    const { files, mistakes } = await host.findFiles([path]);
    if (files.length === 1) return contentOf(files[0], host.displayPath(files[0]), host.readFile, host);
    if (byRevision) return undefined;
    host.writeErr(`${mistakes[0] ?? `Give one file: ${path} holds ${files.length}.`}\n`);
    return usageError;
  }
  const full = host.absolutePath(path);
  const opened = await host.openRevision(revision, full);
  if ('mistake' in opened) {
    host.writeErr(`${opened.mistake}\n`);
    return usageError;
  }
  return contentOf(full, `${revision}:${host.displayPath(full)}`, opened.readFile, host);
}

async function contentOf(
  path: string,
  shown: string,
  readFile: File['readFile'],
  host: CliHost,
): Promise<File | number | undefined> {
  const content = await readFile(path);
  if (content === undefined) return undefined;
  if ('text' in content) return { path, shown, text: content.text, readFile };
  host.writeErr(`${shown}: error: ${content.unreadable}\n`);
  return failed;
}

async function revisionsOf(
  { path, shown, text, readFile }: File,
  units: UnitPreferences,
  version: string,
  host: CliHost,
): Promise<readonly Revision[] | number> {
  const workspace = fileWorkspace(readFile, host);
  const uri = host.uriOf(path);
  workspace.open(uri, text, 1);
  host.progress(shown);
  const snapshot = await workspace.snapshot(uri, units);
  host.progress(undefined);
  if (snapshot === undefined) throw new Error(`The workspace lost a document that is open: ${shown}`);
  const mistake = obstacle(shown, snapshot);
  if (mistake !== undefined) {
    host.writeErr(mistake);
    return failed;
  }
  const { appliances } = snapshot;
  const report = buildAnalyzeReport([{ path: shown, text, problems: [], silenced: [], appliances }], {
    version,
    model: 'full',
  });
  return report.files[0].appliances.map((of, index) => ({ report: of, evaluated: appliances[index] }));
}
