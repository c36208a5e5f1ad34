/** All uses of a name, in this file and in the others of the workspace. */
import type { Location, Position } from 'vscode-languageserver-types';
import type { Snapshot, SourceView } from '#workspace/snapshot';
import { occurrencesOf, referenceAt } from './names/occurrences';
import { rangeOf } from './positions';

/** `sources` are the files to look through, this one among them. */
export function provideReferences(
  snapshot: Snapshot,
  position: Position,
  sources: readonly SourceView[],
  { includeDeclaration }: { readonly includeDeclaration: boolean },
): Location[] {
  const reference = referenceAt(snapshot, position);
  if (reference === undefined) return [];
  return occurrencesOf(reference.definition, sources)
    .filter(({ defines }) => includeDeclaration || !defines)
    .map(({ source, span }) => ({ uri: source.uri, range: rangeOf(source, span) }));
}
