import { type Token, tokenize } from '#grammar/tokens';

/** The token in which the offset lies, or that ends at it; undefined in comments and between tokens. */
export function tokenAt(text: string, offset: number): Token | undefined {
  const touching = tokenize(text).tokens.filter((token) => token.startOffset <= offset && offset <= token.end);
  // Where two tokens meet the later one is pointed at, unless it is punctuation after a word.
  return touching.findLast(({ image }) => /[\w%]/.test(image)) ?? touching.at(-1);
}
