/**
 * Documents, the modules they use and what they come to. Used alike by the language server and the
 * command line:
 *
 * ```ts
 * const workspace = createWorkspace({ readFile: (uri) => … });
 * workspace.open(uri, text, version);
 * const snapshot = await workspace.snapshot(uri);
 * ```
 *
 * Nothing is computed before a snapshot is asked for, and nothing twice: a text is parsed once, a
 * set of numeric inputs is solved once.
 */
import type { AnalysisOptions } from '#core/analysis/analysis';
import { DEFAULT_PREFERENCES, type UnitPreferences } from '#core/units/format';
import { library } from '#library';
import { FILE_LIMITS } from '#model/path/layout';
import type { Severities } from '#model/severities';
import { createAnalysisCache } from './analysis-cache';
import { type BandRequest, createBandMaker } from './bands';
import { createModuleGraph, type FileAnswer } from './module-graph';
import type { Snapshot, SourceView } from './snapshot';
import { buildSnapshot } from './snapshot-builder';
import { canonicalUri, resolveUse } from './uri';

export interface WorkspaceInput {
  /** A file that is not open. Asked once per file until `forget`. */
  readonly readFile: (uri: string) => Promise<FileAnswer>;
  /** How the mechanics is solved; the defaults of the analysis where absent. */
  readonly analysis?: Partial<AnalysisOptions>;
  /** Leaves what a trial activation would change, where the file does not ask for one, to `finish`. */
  readonly trialsLater?: boolean;
}

export interface Workspace {
  /** Opens a document, or gives an open one a new text. The text then comes from here, not from `readFile`. */
  open(uri: string, text: string, version: number): void;
  /** The document is read through `readFile` again when something uses it. */
  close(uri: string): void;
  /** A file that is not open may have changed, appeared or gone. */
  forget(uri: string): void;
  /**
   * View of a document, or of a file read through `readFile`; undefined where there is neither. Texts in it
   * (messages, verdicts) are in the units preferred, and its findings as grave as `severities` says. Visits, which take longer
   * than a hand waits, are followed unless that is not asked for.
   */
  snapshot(
    uri: string,
    units?: UnitPreferences,
    severities?: Severities,
    visits?: boolean,
  ): Promise<Snapshot | undefined>;
  /** The same as if the document had another text, for as long as it is only tried out. */
  tryOut(uri: string, text: string, units?: UnitPreferences, visits?: boolean): Promise<Snapshot | undefined>;
  /** A file by its text and names only, open or read through `readFile`: for what looks through many files. */
  source(uri: string): Promise<SourceView | undefined>;
  /** The snapshot with bands for the figures of its appliances: on request only, as hundreds of wires are solved for them. */
  withBands(snapshot: Snapshot, request?: BandRequest): Promise<Snapshot>;
  /**
   * Adds to the analyses of a snapshot what they lack, pausing after every equilibrium; the next snapshot of its document
   * has it. Yields whether that was done, or given up as `pause` said so.
   */
  finish(snapshot: Snapshot, pause: () => Promise<boolean>): Promise<boolean>;
  /** Open documents that use `uri`, directly or through other modules, without itself. */
  dependents(uri: string): string[];
  /** Open documents, in the order in which they were opened. */
  documents(): string[];
  /** Uris of the bundled modules. */
  readonly bundled: readonly string[];
  /** What was done since the start, for tests and benchmarks. */
  readonly effort: { readonly parses: number; readonly solves: number };
}

/** Analyses kept for reuse: those of the largest file, and of recent edits beside them. */
const keptAnalyses = FILE_LIMITS.appliances + 64;

export function createWorkspace({ readFile, analysis = {}, trialsLater = false }: WorkspaceInput): Workspace {
  const graph = createModuleGraph(readFile);
  const analyses = createAnalysisCache(keptAnalyses);
  const open = new Map<string, { uri: string; version: number }>();
  const latest = new Map<string, { snapshot: Snapshot; preferences: string }>();

  return {
    open(uri, text, version) {
      graph.set(uri, text);
      open.set(canonicalUri(uri), { uri, version });
    },
    close(uri) {
      const key = canonicalUri(uri);
      open.delete(key);
      latest.delete(key);
      graph.forget(uri);
    },
    forget(uri) {
      if (!open.has(canonicalUri(uri))) graph.forget(uri);
    },
    async snapshot(uri, units = DEFAULT_PREFERENCES, severities = {}, visits = true) {
      await graph.load(uri);
      const module = graph.get(uri);
      const file = graph.resolve(uri);
      if (module === undefined || file === undefined) return undefined;
      const key = canonicalUri(uri);
      const version = open.get(key)?.version ?? 0;
      const kept = latest.get(key);
      const previous = kept?.snapshot;
      const preferences = JSON.stringify([units.force, severities, visits]);
      const isKept = previous?.file === file && previous.version === version && kept?.preferences === preferences;
      if (isKept && !previous.unfinished.some(analyses.isWhole)) return previous;
      const used = graph.used(uri);
      const analysing = { analyses, analysis, trialsLater, visits };
      const snapshot = buildSnapshot({ module, file, version, used, ...analysing, units, severities, previous });
      if (open.has(key)) latest.set(key, { snapshot, preferences });
      return snapshot;
    },
    async tryOut(uri, text, units = DEFAULT_PREFERENCES, visits = true) {
      await graph.load(uri);
      const tried = graph.tryOut(uri, text);
      if (tried === undefined) return undefined;
      const key = canonicalUri(uri);
      const [version, used, previous] = [open.get(key)?.version ?? 0, graph.used(uri), latest.get(key)?.snapshot];
      return buildSnapshot({
        ...tried,
        version,
        used,
        analyses,
        analysis,
        trialsLater,
        units,
        visits,
        severities: {},
        previous,
      });
    },
    async source(uri) {
      await graph.load(uri);
      const module = graph.get(uri);
      const file = graph.resolve(uri);
      return module && file && { uri: module.uri, text: module.text, parse: module.parse, file };
    },
    withBands: createBandMaker(analysis),
    async finish({ unfinished }, pause) {
      for (const key of unfinished) {
        do {
          if (!(await pause())) return false;
        } while (analyses.advance(key));
      }
      return true;
    },
    dependents(uri) {
      const key = canonicalUri(uri);
      return [...open].flatMap(([other, { uri }]) => (other !== key && graph.reaches(other, key) ? [uri] : []));
    },
    documents: () => [...open.values()].map(({ uri }) => uri),
    bundled: [...library.keys()].map((name) => resolveUse('', name)),
    get effort() {
      return { parses: graph.parses, solves: analyses.solves };
    },
  };
}
