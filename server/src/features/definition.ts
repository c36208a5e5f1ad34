/** Go to definition: of a name, or of the module after `use`. */
import type { Location, Position } from 'vscode-languageserver-types';
import type { Snapshot } from '#workspace/snapshot';
import { offsetAt, rangeOf } from './positions';

export function provideDefinition(snapshot: Snapshot, position: Position): Location | null {
  const offset = offsetAt(snapshot, position);
  const reference = snapshot.file.references.find(({ span }) => span.start <= offset && offset <= span.end);
  if (reference === undefined) return null;
  const { uri, span } = reference.definition;
  const source = uri === snapshot.uri ? snapshot : snapshot.module(uri);
  return source === undefined ? null : { uri, range: rangeOf(source, span) };
}
