/** `compare`: what changed between two revisions of files. */
import { dirname, relative } from 'node:path';
import type { UnitPreferences } from '#core/units/format';
import { type ComparisonLayout, drawComparison, type RevisionPair } from '#drawing/comparison';
import { standaloneDrawing } from '#drawing/standalone';
import { parse } from '#grammar/parser';
import { type Comparison, compareRevisions, isChanged, type Revision } from '#report/comparison';
import { comparisonMarkdown, comparisonText } from '#report/comparison-text';
import { plain } from '#report/paint';
import { drawnPixels } from './built-png';
import { changedFiles } from './changed-files';
import { failed, ok, usageError } from './exit-codes';
import { type FileSource, revisionOf, workingFolder } from './file-source';
import { revisionsOf } from './revisions-of';
import type { CliHost } from './run-report';

export interface CompareRequest {
  /** A file; with revisions also a folder, of which the files that changed are compared. */
  readonly before: string;
  /** The same where it is absent. */
  readonly after: string | undefined;
  /** Of the repository that holds the file; as it lies on disk where it is absent. */
  readonly revision: string | undefined;
  readonly to: string | undefined;
  readonly format: 'text' | 'markdown';
  readonly units: UnitPreferences;
  /** Standard output where it is absent. */
  readonly output: string | undefined;
  /** Where to write the drawing of what changed, as `.svg` or `.png`. */
  readonly drawing: string | undefined;
  readonly layout: ComparisonLayout;
}

/** A file of two sources, by its absolute path in each. */
interface Pair {
  readonly before: string;
  readonly after: string;
}

/** What is told of a pair of files. */
interface Compared {
  readonly comparisons: readonly Comparison[];
  readonly drawn: readonly RevisionPair[];
  /** Lines on revisions that cannot be compared. */
  readonly obstacles: readonly string[];
  /** Whether the later revision is one of them. */
  readonly unread: boolean;
}

type Sources = readonly [before: FileSource, after: FileSource];

/** Prints what changed; the exit code tells whether a requirement that was met is not any more. */
export async function runCompare(request: CompareRequest, version: string, host: CliHost): Promise<number> {
  const refuse = (line: string): number => {
    host.writeErr(`${line}\n`);
    return usageError;
  };
  const sources = await sourcesOf(request, host);
  if ('mistake' in sources) return refuse(sources.mistake);
  const oneFile = request.revision === undefined || request.after !== undefined || request.before.endsWith('.spring');
  const pairs = oneFile ? await namedPair(request, sources, host) : await changedPairs(request, sources, host);
  if ('mistake' in pairs) return refuse(pairs.mistake);

  const compared: Compared[] = [];
  for (const pair of pairs) {
    const one = await comparePair(pair, sources, request.units, version, host);
    host.writeErr(one.obstacles.join(''));
    if (oneFile && one.obstacles.length > 0) return failed;
    // Of a folder only what changed is told, with the file that it is in.
    const told = oneFile ? one.comparisons : one.comparisons.filter(isChanged);
    const file = oneFile ? undefined : fileWords(pair, host);
    compared.push({ ...one, comparisons: told.map((comparison) => ({ ...comparison, file })) });
  }
  const comparisons = compared.flatMap((one) => one.comparisons);
  const obstacles = compared.flatMap((one) => one.obstacles);

  const { drawing, layout, units } = request;
  const drawn = compared.flatMap((one) => one.drawn);
  const svg = drawing === undefined ? undefined : drawComparison(drawn, layout, units);
  if (drawing !== undefined && svg !== undefined) {
    const whole = standaloneDrawing(svg);
    const bytes = drawing.endsWith('.png') ? await drawnPixels(whole, 2, host) : new TextEncoder().encode(whole);
    const mistake = await host.writeFile(drawing, bytes);
    if (mistake !== undefined) return refuse(`${drawing} ${mistake}`);
  }
  const { output, format } = request;
  // The address of the drawing is read from where the text lies.
  const from = output === undefined ? host.absolutePath('.') : dirname(host.absolutePath(output));
  const address = svg && drawing && relative(from, host.absolutePath(drawing));
  const text =
    format === 'markdown'
      ? comparisonMarkdown(comparisons, { obstacles, drawing: address })
      : comparisonText(comparisons, output === undefined ? host.paint : plain);
  if (output === undefined) host.writeOut(text);
  else {
    const mistake = await host.writeFile(output, new TextEncoder().encode(text));
    if (mistake !== undefined) return refuse(`${output} ${mistake}`);
  }
  const worse = comparisons.some(({ changes }) => changes.some((change) => change.worse));
  return worse || compared.some(({ unread }) => unread) ? failed : ok;
}

async function sourcesOf(
  { before, after = before, revision, to }: CompareRequest,
  host: CliHost,
): Promise<Sources | { readonly mistake: string }> {
  const opened = await Promise.all([
    revision === undefined ? workingFolder(host, false) : revisionOf(revision, before, host),
    to === undefined ? workingFolder(host, revision !== undefined) : revisionOf(to, after, host),
  ]);
  const wrong = opened.find((one) => 'mistake' in one);
  return wrong ?? (opened as unknown as Sources);
}

/** The two files that are named, which are there. */
async function namedPair(
  { before, after = before, revision, to }: CompareRequest,
  sources: Sources,
  host: CliHost,
): Promise<readonly Pair[] | { readonly mistake: string }> {
  if (revision === undefined) {
    const files: string[] = [];
    for (const path of [before, after]) {
      const found = await host.findFiles([path]);
      if (found.files.length !== 1) {
        return { mistake: found.mistakes[0] ?? `Give one file: ${path} holds ${found.files.length}.` };
      }
      files.push(found.files[0]);
    }
    return [{ before: files[0], after: files[1] }];
  }
  for (const path of [before, after]) {
    if (!path.endsWith('.spring')) return { mistake: `Not a .spring file: ${path}.` };
  }
  const pair = { before: host.absolutePath(before), after: host.absolutePath(after) };
  const contents = [await sources[0].readFile(pair.before), await sources[1].readFile(pair.after)];
  if (contents.some((content) => content !== undefined)) return [pair];
  return { mistake: `No such file: ${after} is neither in ${revision} nor in ${to ?? 'the working folder'}.` };
}

/** The files of a folder that changed. One that has gone and one that is new are one file where they share an appliance. */
async function changedPairs(
  { before: folder }: CompareRequest,
  [before, after]: Sources,
  host: CliHost,
): Promise<readonly Pair[] | { readonly mistake: string }> {
  const { files, mistake } = await changedFiles(folder, before, after, host);
  if (mistake !== undefined) return { mistake };
  const named = await Promise.all(
    files.map(async (file) => ({ file, was: await namesIn(file, before), is: await namesIn(file, after) })),
  );
  const gone = named.filter(({ was, is }) => was !== undefined && is === undefined);
  const moved = new Map<string, string>();
  for (const { file, was, is } of named) {
    if (was !== undefined || is === undefined) continue;
    const from = gone.find((other) => !moved.has(other.file) && other.was?.some((name) => is.includes(name)));
    if (from) moved.set(from.file, file);
  }
  const arrived = new Map([...moved].map(([from, to]) => [to, from]));
  return files.filter((file) => !moved.has(file)).map((file) => ({ before: arrived.get(file) ?? file, after: file }));
}

/** Names of the appliances in a file; undefined where there is no such file. */
async function namesIn(file: string, source: FileSource): Promise<readonly string[] | undefined> {
  const content = await source.readFile(file);
  if (content === undefined) return undefined;
  if (!('text' in content)) return [];
  return parse(content.text).tree.items.flatMap((item) =>
    item.kind === 'appliance' && item.name ? [item.name.text] : [],
  );
}

function fileWords({ before, after }: Pair, host: CliHost): string {
  const [was, is] = [before, after].map(host.displayPath);
  return was === is ? is : `${is} (was ${was})`;
}

async function comparePair(
  pair: Pair,
  sources: Sources,
  units: UnitPreferences,
  version: string,
  host: CliHost,
): Promise<Compared> {
  const before = await revisionsOf(pair.before, sources[0], units, version, host);
  const after = await revisionsOf(pair.after, sources[1], units, version, host);
  const obstacles = [before, after].flatMap((read) => ('obstacle' in read ? [read.obstacle] : []));
  if ('obstacle' in after) return { comparisons: [], drawn: [], obstacles, unread: true };
  // What could not be read and now can is new.
  const earlier = 'obstacle' in before ? [] : before;
  const comparisons = compareRevisions(earlier, after, units);
  const named = (revisions: readonly Revision[], name: string) =>
    revisions.find(({ report }) => report.name === name)?.evaluated;
  const drawn = comparisons
    .filter(isChanged)
    .map(({ name }) => ({ name, before: named(earlier, name), after: named(after, name) }));
  return { comparisons, drawn, obstacles, unread: false };
}
