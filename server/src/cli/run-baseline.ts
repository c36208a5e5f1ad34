/** `compare --baseline`: figures against those that were written down, which change only where that is asked for. */
import type { UnitPreferences } from '#core/units/format';
import { type Baseline, baselineText, readBaseline } from '#report/baseline';
import {
  type ApplianceFigures,
  applianceFigures,
  type Comparison,
  compareFigures,
  isChanged,
} from '#report/comparison';
import { comparisonMarkdown, comparisonText } from '#report/comparison-text';
import { failed, ok, usageError } from './exit-codes';
import { workingFolder } from './file-source';
import { revisionsOf } from './revisions-of';
import type { CliHost } from './run-report';

export interface BaselineRequest {
  /** A file, or a folder. */
  readonly path: string;
  /** Where the figures stand: `designs/arm.json` of `designs/arm.spring`. */
  readonly baseline: string;
  readonly update: boolean;
  readonly format: 'text' | 'markdown';
  /** Of what is written; what stands there is told in its own. */
  readonly units: UnitPreferences;
}

/** A file as it is shown, which places its baseline too; either may be gone. */
interface Entry {
  readonly shown: string;
  readonly file: string | undefined;
}

/** Prints what changed, or what was written, and yields the exit code. */
export async function runBaseline(request: BaselineRequest, version: string, host: CliHost): Promise<number> {
  const entries = await entriesOf(request, host);
  if ('mistake' in entries) {
    host.writeErr(`${entries.mistake}\n`);
    return usageError;
  }
  const comparisons: Comparison[] = [];
  const obstacles: string[] = [];
  for (const entry of entries) {
    const place = placeOf(entry.shown, request);
    const known = await readKnown(place, host);
    if ('obstacle' in known && !request.update) {
      obstacles.push(known.obstacle);
      continue;
    }
    const earlier = 'obstacle' in known ? undefined : known.baseline;
    const now = await figuresNow(
      entry,
      request.update ? request.units : (earlier?.units ?? request.units),
      version,
      host,
    );
    if ('obstacle' in now) {
      obstacles.push(now.obstacle);
      continue;
    }
    const changed = compareFigures(earlier?.appliances ?? [], now.appliances).filter(isChanged);
    if (!request.update) {
      comparisons.push(...changed.map((comparison) => ({ ...comparison, file: entry.shown })));
      continue;
    }
    // What differs by less than is told stays as it was written.
    const stays = earlier !== undefined && changed.length === 0 && earlier.units.force === request.units.force;
    if (stays && entry.file !== undefined) continue;
    const mistake = await put(place, entry.file === undefined ? undefined : now, host);
    if (mistake !== undefined) {
      host.writeErr(`${place} ${mistake}\n`);
      return usageError;
    }
    host.writeOut(entry.file === undefined ? `${place} is gone\n` : `${place}\n`);
  }
  host.writeErr(obstacles.join(''));
  if (request.update) return obstacles.length > 0 ? failed : ok;
  host.writeOut(
    request.format === 'markdown'
      ? comparisonMarkdown(comparisons, { obstacles })
      : comparisonText(comparisons, host.paint),
  );
  if (comparisons.length > 0) host.writeErr('If that is meant to be: the same command with --update writes it down.\n');
  return comparisons.length > 0 || obstacles.length > 0 ? failed : ok;
}

/** Files that are there, and those of which only the baseline is. */
async function entriesOf(
  { path, baseline }: BaselineRequest,
  host: CliHost,
): Promise<readonly Entry[] | { readonly mistake: string }> {
  const found = await host.findFiles([path]);
  const files = new Map(found.files.map((file) => [host.displayPath(file), file]));
  const outside = [...files.keys()].find((shown) => shown.startsWith('../') || /^([a-z]:|\/)/i.test(shown));
  if (outside !== undefined) return { mistake: `Give files below the working folder, not ${outside}.` };
  const root = host.displayPath(host.absolutePath(baseline));
  const asked = host.displayPath(host.absolutePath(path));
  const recorded = (await host.filesBelow(baseline, '.json')).map((file) =>
    host
      .displayPath(file)
      .slice(root === '.' ? 0 : root.length + 1)
      .replace(/json$/, 'spring'),
  );
  const gone = recorded.filter(
    (shown) => !files.has(shown) && (asked === '.' || shown === asked || shown.startsWith(`${asked}/`)),
  );
  if (files.size === 0 && gone.length === 0) return { mistake: found.mistakes[0] };
  return [...files.keys(), ...gone].sort().map((shown) => ({ shown, file: files.get(shown) }));
}

function placeOf(shown: string, { baseline }: BaselineRequest): string {
  return `${baseline.replace(/[/\\]+$/, '')}/${shown.replace(/\.spring$/, '.json')}`;
}

async function readKnown(
  place: string,
  host: CliHost,
): Promise<{ readonly baseline: Baseline | undefined } | { readonly obstacle: string }> {
  const content = await host.readRecord(host.absolutePath(place));
  if ('unreadable' in content) {
    return content.missing ? { baseline: undefined } : { obstacle: `${place}: error: ${content.unreadable}\n` };
  }
  const baseline = readBaseline(content.text);
  const told = `${place}: error: is no baseline of this version; --update writes it anew\n`;
  return baseline === undefined ? { obstacle: told } : { baseline };
}

async function figuresNow(
  { file }: Entry,
  units: UnitPreferences,
  version: string,
  host: CliHost,
): Promise<Baseline | { readonly obstacle: string }> {
  if (file === undefined) return { units, appliances: [] };
  const revisions = await revisionsOf(file, workingFolder(host, false), units, version, host);
  if ('obstacle' in revisions) return revisions;
  return { units, appliances: revisions.map((revision): ApplianceFigures => applianceFigures(revision, units)) };
}

/** Why it could not be done, in plain words. */
async function put(place: string, baseline: Baseline | undefined, host: CliHost): Promise<string | undefined> {
  if (baseline === undefined) return host.removeFile(place);
  return host.writeFile(place, new TextEncoder().encode(baselineText(baseline)), { folders: true });
}
