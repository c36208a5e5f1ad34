import { tokenize } from '#grammar/tokens';
import type { Span } from '#grammar/tree';

export interface BracketPair {
  /** From the opening bracket to behind the closing one. */
  readonly span: Span;
  readonly bracket: '{' | '(';
}

/** Pairs of braces and parentheses, inner ones first. By tokens: they are there also where the text is half-written. */
export function bracketPairs(text: string): BracketPair[] {
  const pairs: BracketPair[] = [];
  const open: { image: string; start: number }[] = [];
  for (const { image, startOffset, end } of tokenize(text).tokens) {
    if (image === '{' || image === '(') open.push({ image, start: startOffset });
    if (image !== '}' && image !== ')') continue;
    const bracket = image === '}' ? '{' : '(';
    const place = open.findLastIndex((one) => one.image === bracket);
    // A parenthesis never reaches out of its block.
    if (place < 0 || (bracket === '(' && open.slice(place).some((one) => one.image === '{'))) continue;
    pairs.push({ span: { start: open[place].start, end }, bracket });
    open.length = place;
  }
  return pairs;
}
