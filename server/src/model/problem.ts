import type { Span } from '#grammar/tree';

/** A finding about a file, ready for editor, command line and report. */
export interface Problem {
  /** Stable kebab-case id, e.g. `unit-mismatch`. */
  readonly code: string;
  readonly severity: 'error' | 'warning' | 'information' | 'hint';
  readonly span: Span;
  /** What is wrong and what was expected, in trade words, one sentence or two. */
  readonly message: string;
  /** How to mend it, where that is not in the message. */
  readonly hint?: string;
  readonly related?: readonly { readonly uri: string; readonly span: Span; readonly message: string }[];
  readonly fixes?: readonly Fix[];
}

export interface Fix {
  readonly title: string;
  readonly edits: readonly { readonly span: Span; readonly text: string }[];
}

/** A finding that is not shown, and why. */
export interface Silenced {
  readonly problem: Problem;
  readonly reason: string;
}

export interface Findings {
  readonly problems: readonly Problem[];
  readonly silenced: readonly Silenced[];
}
