/** What a feature reads: an immutable view of one document and everything it depends on. */
import type { ApplianceDesign } from '#core/design';
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
  /** True where the analysis is of an earlier text. */
  readonly stale: boolean;
}
