import type { Span } from '#grammar/tree';
import type { Definition } from '#model/resolved';
import type { Snapshot } from '#workspace/snapshot';

/** The text in which something is defined: this document's or that of a module it uses. */
export function textOf(snapshot: Snapshot, { uri }: Pick<Definition, 'uri'>): string | undefined {
  return uri === snapshot.uri ? snapshot.text : snapshot.module(uri)?.text;
}

/** A piece of text as written, on one line. */
export function slice(text: string, { start, end }: Span): string {
  return text.slice(start, end).replace(/\s+/g, ' ').trim();
}
