/** Where else in this file the name under the cursor stands. */
import { type DocumentHighlight, DocumentHighlightKind, type Position } from 'vscode-languageserver-types';
import type { Snapshot } from '#workspace/snapshot';
import { occurrencesOf, referenceAt } from './names/occurrences';
import { rangeOf } from './positions';

export function provideDocumentHighlights(snapshot: Snapshot, position: Position): DocumentHighlight[] {
  const reference = referenceAt(snapshot, position);
  if (reference === undefined) return [];
  return occurrencesOf(reference.definition, [snapshot]).map(({ span, defines }) => ({
    range: rangeOf(snapshot, span),
    kind: defines ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
  }));
}
