/** What a feature reads: an immutable view of one document and everything it depends on. */
import type { ApplianceDesign } from '#core/design';
import type { UnitPreferences } from '#core/units/format';
import type { ParseResult } from '#grammar/tree';
import type { Problem, Silenced } from '#model/problem';
import type { EvaluatedAppliance, ResolvedFile } from '#model/resolved';

/** A file by its text and names: nothing is solved for it. */
export interface SourceView {
  readonly uri: string;
  readonly text: string;
  readonly parse: ParseResult;
  readonly file: ResolvedFile;
}

export interface Snapshot extends SourceView {
  readonly version: number;
  /** Those that messages and verdicts are written in. */
  readonly units: UnitPreferences;
  /** In file order. While the text is broken an appliance keeps its last good analysis, marked stale. */
  readonly appliances: readonly SnapshotAppliance[];
  /** All problems of this file: syntax, model and mechanics, in file order. */
  readonly problems: readonly Problem[];
  /** What the file's comments silence and the settings switch off. */
  readonly silenced: readonly Silenced[];
  /** Keys of analyses that lack what a trial activation would change: `Workspace.finish` adds it. */
  readonly unfinished: readonly string[];
  /** A module this file uses, by uri. */
  module(uri: string): { readonly text: string; readonly file: ResolvedFile } | undefined;
}

export interface SnapshotAppliance extends EvaluatedAppliance {
  /** The design that the analysis is of; an earlier text's where it is stale. */
  readonly design: ApplianceDesign | undefined;
  /** Under which the analysis, and any that led to it, are kept (`analysis-cache.ts`). */
  readonly analysisKeys: readonly string[];
  /** True where the analysis is of an earlier text. */
  readonly stale: boolean;
}
