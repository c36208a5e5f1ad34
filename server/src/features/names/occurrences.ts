/** Every place at which a name stands, in one file or in many. */
import type { Position } from 'vscode-languageserver-types';
import type { Span } from '#grammar/tree';
import type { Definition, Reference } from '#model/resolved';
import type { Snapshot, SourceView } from '#workspace/snapshot';
import { canonicalUri } from '#workspace/uri';
import { offsetAt } from '../positions';

export interface Occurrence {
  readonly source: SourceView;
  readonly span: Span;
  /** True at the name's own definition. */
  readonly defines: boolean;
}

/** The name at a place, and what it means. */
export function referenceAt(snapshot: Snapshot, position: Position): Reference | undefined {
  const offset = offsetAt(snapshot, position);
  const touching = snapshot.file.references.filter(({ span }) => span.start <= offset && offset <= span.end);
  // Of two names that touch, the later one is pointed at.
  return touching.reduce<Reference | undefined>(
    (last, one) => (last === undefined || one.span.start > last.span.start ? one : last),
    undefined,
  );
}

/** Places of a name, in the order of the files and of their texts. */
export function occurrencesOf(definition: Definition, sources: readonly SourceView[]): Occurrence[] {
  const own = keyOf(definition);
  const home = canonicalUri(definition.uri);
  return sources.flatMap((source) => {
    const isHome = canonicalUri(source.uri) === home;
    const defines = (span: Span): boolean => isHome && span.start === definition.span.start;
    const uses = source.file.references
      .filter((reference) => keyOf(reference.definition) === own)
      .map(({ span }) => span);
    // Where a loop without a label is defined stands the name of its part.
    if (isHome && definition.kind === 'loop' && !uses.some(defines)) uses.push(definition.span);
    return uses
      .sort((left, right) => left.start - right.start)
      .map((span) => ({ source, span, defines: defines(span) }));
  });
}

/**
 * The same for one definition in whichever file it is come across: a file that uses it may have been resolved
 * before or after its own.
 */
export function keyOf({ uri, span, kind }: Definition): string {
  return `${canonicalUri(uri)}:${span.start}:${span.end}${kind === 'loop' ? ':loop' : ''}`;
}
