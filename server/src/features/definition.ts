/** Go to the definition of a name, in this file or in a module it uses. */
import type { Location, Position } from 'vscode-languageserver-types';
import type { Snapshot } from '#workspace/snapshot';
import { offsetAt, rangeOf } from './positions';

export function provideDefinition(snapshot: Snapshot, position: Position): Location | null {
  const offset = offsetAt(snapshot, position);
  const reference = snapshot.file.references.find(({ span }) => span.start <= offset && offset <= span.end);
  if (reference === undefined) return null;
  const { uri, span, home } = reference.definition;
  return { uri, range: rangeOf(home, span) };
}
