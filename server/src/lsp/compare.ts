/** What changed between two files, or two revisions of one: figure by figure, and drawn. */
import { drawComparison } from '#drawing/comparison';
import type { Settings } from '#features/settings';
import { compareRevisions, isChanged, type Revision } from '#report/comparison';
import { left } from '#report/comparison-text';
import { caution } from '#report/report';
import { revisionsIn } from '#report/revisions';
import type { Snapshot } from '#workspace/snapshot';
import { createWorkspace, type Workspace } from '#workspace/workspace';
import { version } from '../../../package.json';
import type { ComparedSide, CompareParams, CompareResult } from './protocol';

export type Comparer = (params: CompareParams, settings: Settings) => Promise<CompareResult>;

/**
 * @param readFile  the file as a commit has it; undefined where it has none. Never asked without a commit: `workspace` knows
 *   files as they are now.
 */
export function createComparer(
  workspace: Workspace,
  readFile: (uri: string, revision: string) => Promise<string | undefined>,
): Comparer {
  /** What a commit holds never changes: the last ones are kept, while the file that they are compared with is edited. */
  const kept = new Map<string, Workspace>();

  const workspaceOf = (revision: string): Workspace => {
    const known =
      kept.get(revision) ?? createWorkspace({ readFile: (uri) => readFile(uri, revision), trialsLater: true });
    kept.delete(revision);
    kept.set(revision, known);
    for (const oldest of [...kept.keys()].slice(0, -keptRevisions)) kept.delete(oldest);
    return known;
  };

  return async ({ before, after }, { units }) => {
    const read = async ({ uri, revision }: ComparedSide): Promise<Snapshot | undefined> =>
      (revision === undefined ? workspace : workspaceOf(revision)).snapshot(uri, units);
    const sides = [
      { side: before, snapshot: await read(before) },
      { side: after, snapshot: await read(after) },
    ];
    if (sides.every(({ snapshot }) => snapshot === undefined))
      return failedComparison(`There is no such file: neither ${before.name} nor ${after.name} can be read.`);
    for (const { side, snapshot } of sides) {
      const mistake = snapshot && mistakeOf(snapshot);
      if (mistake !== undefined)
        return failedComparison(`${side.name} has errors, so that there is nothing to compare: ${mistake}`);
    }
    const [earlier, later] = sides.map(({ snapshot, side }) =>
      snapshot ? revisionsIn(side.name, snapshot.text, snapshot.appliances, version) : [],
    );
    const named = (revisions: readonly Revision[], name: string) =>
      revisions.find(({ report }) => report.name === name)?.evaluated;
    const appliances = compareRevisions(earlier, later, units).map((comparison) => {
      const { name } = comparison;
      const pairs = isChanged(comparison) ? [{ name, before: named(earlier, name), after: named(later, name) }] : [];
      return {
        ...comparison,
        overlay: drawComparison(pairs, 'overlay', units),
        beside: drawComparison(pairs, 'beside', units),
      };
    });
    return { content: { appliances, notes: [left, caution] }, failure: undefined };
  };
}

export function failedComparison(failure: string): CompareResult {
  return { content: undefined, failure };
}

const keptRevisions = 4;

/** Figures of an earlier text, or of a text that cannot be read, are none of this revision. */
function mistakeOf({ appliances, problems }: Snapshot): string | undefined {
  const unreadable = problems.find(({ code }) => code === 'syntax' || code === 'module-not-found');
  if (unreadable) return unreadable.message;
  if (!appliances.some(({ stale }) => stale)) return undefined;
  return problems.find(({ severity }) => severity === 'error')?.message ?? 'it cannot be computed.';
}
