import type { Span } from '#grammar/tree';

/** A piece of text as written, on one line. */
export function slice(text: string, { start, end }: Span): string {
  return text.slice(start, end).replace(/\s+/g, ' ').trim();
}
