import { Direction, type Token, tokenize, word } from '#grammar/tokens';

/** The token in which the offset lies, or that ends at it; undefined in comments and between tokens. */
export function tokenAt(text: string, offset: number): Token | undefined {
  const touching = tokenize(text).tokens.filter((token) => token.startOffset <= offset && offset <= token.end);
  // Where two tokens meet the later one is pointed at, unless it is punctuation after a word.
  return touching.findLast(({ image }) => /[\w%]/.test(image)) ?? touching.at(-1);
}

/** Whether the token is a word of the language in its own meaning, not a name of the user's, a unit or a direction. */
export function isKeyword({ image, tokenType }: Token): boolean {
  return tokenType !== Direction && tokenType === word(image);
}
