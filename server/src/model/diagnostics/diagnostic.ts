/** What every diagnostic of the catalogue is made of. */
import type { Span } from '#grammar/tree';
import type { Problem } from '../problem';

export interface Diagnostic<Arguments extends readonly unknown[] = readonly never[]> {
  /** Stable kebab-case id. */
  readonly code: string;
  /** Unless the user sets another. */
  readonly severity: Problem['severity'];
  /** Of an error: it judges a wire that is computed all the same, so that it may be silenced or set to another severity. */
  readonly judgement?: true;
  /** The finding's name in a list. */
  readonly title: string;
  /** A short page in Markdown: what it means, why, how to mend it, an example. */
  readonly documentation: string;
  /** The finding at a place. */
  at(span: Span, ...about: Arguments): Problem;
}

type Message = Pick<Problem, 'message' | 'hint' | 'related' | 'fixes'>;

export function diagnostic<Arguments extends readonly unknown[]>(
  entry: Omit<Diagnostic, 'at'>,
  describe: (span: Span, ...about: Arguments) => Message,
): Diagnostic<Arguments> {
  return {
    ...entry,
    at: (span, ...about) => ({ code: entry.code, severity: entry.severity, span, ...describe(span, ...about) }),
  };
}

/** A fix that replaces the place itself. */
export function replacement(title: string, span: Span, text: string) {
  return [{ title, edits: [{ span, text }] }];
}

/** "a, b or c", at most eight. */
export function alternatives(names: readonly string[]): string {
  const shown = names.slice(0, 8);
  const more = names.length > shown.length ? [...shown, '…'] : shown;
  return more.length < 2 ? more.join('') : `${more.slice(0, -1).join(', ')} or ${more.at(-1)}`;
}
