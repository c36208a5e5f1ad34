/** What a feature reads: an immutable view of one document and everything it depends on. */
import type { ApplianceDesign } from '#core/design';
import type { ParseResult } from '#grammar/tree';
import type { Problem } from '#model/problem';
import type { EvaluatedAppliance, ResolvedFile } from '#model/resolved';

export interface Snapshot {
  readonly uri: string;
  readonly version: number;
  readonly text: string;
  readonly parse: ParseResult;
  readonly file: ResolvedFile;
  /** In file order. While the text is broken an appliance keeps its last good analysis, marked stale. */
  readonly appliances: readonly SnapshotAppliance[];
  /** All problems of this file: syntax, model and mechanics, in file order. */
  readonly problems: readonly Problem[];
  /** A module this file uses, by uri. */
  module(uri: string): { readonly text: string; readonly file: ResolvedFile } | undefined;
}

export interface SnapshotAppliance extends EvaluatedAppliance {
  /** The design that the analysis is of; an earlier text's where it is stale. */
  readonly design: ApplianceDesign | undefined;
  /** True where the analysis is of an earlier text. */
  readonly stale: boolean;
}
