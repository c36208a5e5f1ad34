import { createToken, type IToken, Lexer, type TokenType } from 'chevrotain';
import type { Doc, SyntaxProblem } from './tree';
import {
  clauseWords,
  directionWords,
  itemWords,
  keywords,
  loadWords,
  memberWords,
  reservedWords,
  stepWords,
  unitWords,
} from './words';

/** A token of the language with what the parser needs to know about its surroundings. */
export interface Token extends IToken {
  /** Offset just after the token. */
  end: number;
  firstOnLine: boolean;
  /** Counts the lines that begin with a token. */
  row: number;
  /** Text of the `///` lines directly above. */
  doc: Doc;
}

export interface TokenizeResult {
  /** Without comments and characters that belong to no token. */
  readonly tokens: Token[];
  /** Every comment, in order. */
  readonly comments: readonly IToken[];
  readonly problems: readonly SyntaxProblem[];
}

/** Splits a text into tokens. Never throws; what is no token becomes a problem. */
export function tokenize(text: string): TokenizeResult {
  const { tokens: lexed, groups, errors } = lexer.tokenize(text);
  const tokens = lexed as Token[];
  const comments = groups.comment;
  const problems = errors.map(({ offset, length }) => describeStray(text.slice(offset, offset + length), offset));
  placeTokens(tokens, comments, text);
  classifyWords(tokens);
  for (const token of tokens) {
    if (token.tokenType === UnclosedText) problems.push(describeUnclosedText(token));
  }
  return { tokens, comments, problems };
}

const category = (name: string, label = name) => createToken({ name, label, pattern: Lexer.NA });
const symbol = (name: string, pattern: string, categories: TokenType[] = []) =>
  createToken({ name, pattern, label: `"${pattern}"`, categories });

/** Anything that may name a thing of the user's: an own word, a direction, or an unreserved word of the language. */
export const Name = category('Name', 'NAME');
export const ClauseWord = category('ClauseWord');
export const Fitting = category('Fitting');
export const Pulling = category('Pulling');
export const Comparison = category('Comparison');
export const SumOperator = category('SumOperator');
export const ProductOperator = category('ProductOperator');

export const Blank = createToken({ name: 'Blank', pattern: /[\s\uFEFF]+/, group: Lexer.SKIPPED, line_breaks: true });
export const Comment = createToken({ name: 'Comment', pattern: /\/\/[^\r\n]*/, group: 'comment' });
export const NumberLiteral = createToken({
  name: 'NumberLiteral',
  label: 'NUMBER',
  pattern: /(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?/,
});
export const Identifier = createToken({
  name: 'Identifier',
  label: 'WORD',
  pattern:
    /[A-Za-z_\u00C0-\u00D6\u00D8-\u00F6\u00F8-\u024F\u0370-\u03FF\u0400-\u04FF][\w\u00C0-\u00D6\u00D8-\u00F6\u00F8-\u024F\u0370-\u03FF\u0400-\u04FF]*/,
  categories: Name,
});
export const Direction = createToken({ name: 'Direction', label: 'DIRECTION', pattern: Lexer.NA, categories: Name });
/** A unit word directly after a number; told from a name by its place. */
export const Unit = createToken({ name: 'Unit', label: 'UNIT', pattern: Lexer.NA });
/** The slash of a quotient of units, `0.4 N/mm`; told from a division by its place. */
export const UnitPer = createToken({ name: 'UnitPer', label: '"/"', pattern: Lexer.NA });
export const Text = createToken({ name: 'Text', label: 'TEXT', pattern: /"[^"\r\n]*"/ });
/** A text whose closing quote is missing; it ends with its line and counts as a text. */
export const UnclosedText = createToken({
  name: 'UnclosedText',
  label: 'TEXT',
  pattern: /"[^"\r\n]*/,
  categories: Text,
});

export const RangeDots = symbol('RangeDots', '..');
export const Dot = symbol('Dot', '.');
export const Comma = symbol('Comma', ',');
export const LeftParenthesis = symbol('LeftParenthesis', '(');
export const RightParenthesis = symbol('RightParenthesis', ')');
export const LeftBrace = symbol('LeftBrace', '{');
export const RightBrace = symbol('RightBrace', '}');
export const EqualTo = symbol('EqualTo', '==', [Comparison]);
export const NotEqual = symbol('NotEqual', '!=', [Comparison]);
export const AtMost = symbol('AtMost', '<=', [Comparison]);
export const AtLeast = symbol('AtLeast', '>=', [Comparison]);
export const Less = symbol('Less', '<', [Comparison]);
export const Greater = symbol('Greater', '>', [Comparison]);
export const Equals = symbol('Equals', '=');
export const Plus = symbol('Plus', '+', [SumOperator]);
export const Minus = symbol('Minus', '-', [SumOperator]);
export const Star = symbol('Star', '*', [ProductOperator]);
export const Slash = symbol('Slash', '/', [ProductOperator]);
export const Caret = symbol('Caret', '^');
export const Percent = symbol('Percent', '%');

const wordTypes = new Map<string, TokenType>(
  keywords.map((word) => [
    word,
    createToken({ name: `"${word}"`, label: `"${word}"`, pattern: Lexer.NA, categories: categoriesOf(word) }),
  ]),
);

/** The token type of a word of the language. */
export function word(text: string): TokenType {
  return wordTypes.get(text)!;
}

const symbols = [
  RangeDots,
  Dot,
  Comma,
  LeftParenthesis,
  RightParenthesis,
  LeftBrace,
  RightBrace,
  EqualTo,
  NotEqual,
  AtMost,
  AtLeast,
  Less,
  Greater,
  Equals,
  Plus,
  Minus,
  Star,
  Slash,
  Caret,
  Percent,
];

/** Every token type, for the lexer and the parser. */
export const vocabulary: TokenType[] = [
  Name,
  ClauseWord,
  Fitting,
  Pulling,
  Comparison,
  SumOperator,
  ProductOperator,
  Blank,
  Comment,
  Identifier,
  NumberLiteral,
  Direction,
  Unit,
  UnitPer,
  Text,
  UnclosedText,
  ...symbols,
  ...wordTypes.values(),
];

const lexer = new Lexer(vocabulary, { positionTracking: 'onlyOffset', ensureOptimizations: true });

for (const direction of directionWords) wordTypes.set(direction, Direction);

export const itemStarts: ReadonlySet<TokenType> = new Set(itemWords.map(word));
export const memberStarts: ReadonlySet<TokenType> = new Set(memberWords.map(word));
export const stepStarts: ReadonlySet<TokenType> = new Set(stepWords.map(word));

function categoriesOf(text: string): TokenType[] {
  const categories: TokenType[] = [];
  if (!reservedWords.has(text)) categories.push(Name);
  if ((clauseWords as readonly string[]).includes(text)) categories.push(ClauseWord);
  if (['tube', 'bracket', 'hook', 'eyelet'].includes(text)) categories.push(Fitting);
  if ((loadWords as readonly string[]).includes(text)) categories.push(Pulling);
  return categories;
}

/** Fills in `end`, `firstOnLine`, `row` and `doc`. */
function placeTokens(tokens: Token[], comments: readonly IToken[], text: string): void {
  let previousEnd = 0;
  let comment = 0;
  let row = 0;
  for (const token of tokens) {
    const start = token.startOffset;
    token.end = start + token.image.length;
    token.firstOnLine = previousEnd === 0 || hasLineBreak(text, previousEnd, start);
    token.row = token.firstOnLine ? ++row : row;
    token.doc = undefined;
    if (comment < comments.length && comments[comment].startOffset < start) {
      const first = comment;
      while (comment < comments.length && comments[comment].startOffset < start) comment++;
      token.doc = docAbove(comments, first, comment, previousEnd, start, text);
    }
    previousEnd = token.end;
  }
}

/** The run of `///` comments that ends on the line above `start`, each on a line of its own. */
function docAbove(
  comments: readonly IToken[],
  first: number,
  end: number,
  previousEnd: number,
  start: number,
  text: string,
): Doc {
  const lines: string[] = [];
  let below = start;
  for (let i = end - 1; i >= first; i--) {
    const { image, startOffset } = comments[i];
    const gap = text.slice(startOffset + image.length, below);
    if (!/^\/\/\/(?!\/)/.test(image) || !/^[^\S\r\n]*(?:\r\n|\r|\n)[^\S\r\n]*$/.test(gap)) break;
    if (i === first && previousEnd > 0 && !hasLineBreak(text, previousEnd, startOffset)) break;
    lines.unshift(image.slice(3).replace(/^ /, '').trimEnd());
    below = startOffset;
  }
  return lines.length > 0 ? lines.join('\n') : undefined;
}

function hasLineBreak(text: string, start: number, end: number): boolean {
  for (let i = start; i < end; i++) {
    const code = text.charCodeAt(i);
    if (code === 10 || code === 13) return true;
  }
  return false;
}

const anyUnit: ReadonlySet<string> = new Set<string>(Object.values(unitWords).flat());
const forceUnit: ReadonlySet<string> = new Set<string>(unitWords.force);
const lengthUnit: ReadonlySet<string> = new Set<string>(unitWords.length);

/**
 * Gives each word its meaning from its place: units follow numbers, `in` is an inch or begins a range, a word
 * after a dot is a name, `wire` and `activation` before a dot are names.
 */
function classifyWords(tokens: Token[]): void {
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i];
    if (token.tokenType === NumberLiteral) {
      i = classifyUnits(tokens, i);
    } else if (token.tokenType === Identifier) {
      const type = wordTypes.get(token.image);
      if (type === undefined) continue;
      const afterDot = i > 0 && tokens[i - 1].tokenType === Dot && !token.firstOnLine;
      const beforeDot = (token.image === 'wire' || token.image === 'activation') && tokens[i + 1]?.tokenType === Dot;
      if (!afterDot && !beforeDot) setType(token, type);
    }
  }
}

/** Marks the units of the number at `index`; returns the index of the last token used. */
function classifyUnits(tokens: Token[], index: number): number {
  let i = index;
  if (!isUnitAt(tokens, i + 1)) return i;
  setType(tokens[++i], Unit);
  if (
    forceUnit.has(tokens[i].image) &&
    lengthUnit.has(tokens[i + 1]?.image) &&
    !tokens[i + 1].firstOnLine &&
    (tokens[i + 1].image !== 'in' || isInch(tokens, i + 1))
  ) {
    setType(tokens[++i], Unit);
  }
  while (isUnitQuotient(tokens, i + 1)) {
    setType(tokens[++i], UnitPer);
    setType(tokens[++i], Unit);
  }
  return i;
}

/** Whether the token directly after a number is its unit. An unknown word is kept as a unit, so that it can be named. */
function isUnitAt(tokens: Token[], index: number): boolean {
  const token = tokens[index];
  if (token === undefined || token.firstOnLine) return false;
  if (token.tokenType === Percent) return true;
  if (token.tokenType !== Identifier) return false;
  if (token.image === 'in') return isInch(tokens, index);
  const next = tokens[index + 1]?.tokenType;
  if (next === LeftParenthesis && !tokens[index + 1].firstOnLine) return false;
  return anyUnit.has(token.image) || (!wordTypes.has(token.image) && next !== Equals && next !== Dot);
}

/** `in` after a number is the inch unless a number, a name or `(` follows on the line: then it begins a range. */
function isInch(tokens: Token[], index: number): boolean {
  const next = tokens[index + 1];
  if (next === undefined || next.firstOnLine) return true;
  if (next.tokenType === NumberLiteral || next.tokenType === LeftParenthesis) return false;
  if (next.tokenType !== Identifier) return true;
  const after = tokens[index + 2]?.tokenType;
  return wordTypes.has(next.image) && after !== RangeDots && after !== Dot;
}

function isUnitQuotient(tokens: Token[], index: number): boolean {
  const unit = tokens[index + 1];
  if (tokens[index]?.tokenType !== Slash || unit === undefined || unit.firstOnLine || tokens[index].firstOnLine) {
    return false;
  }
  const next = tokens[index + 2]?.tokenType;
  return anyUnit.has(unit.image) && next !== LeftParenthesis && next !== Dot;
}

function setType(token: Token, type: TokenType): void {
  token.tokenType = type;
  token.tokenTypeIdx = type.tokenTypeIdx!;
}

const strayHints: Readonly<Record<string, string>> = {
  '°': 'Write `deg` for degrees.',
  '×': 'Write `x` between height and width, `*` to multiply.',
  '·': 'Write `*` to multiply.',
  '÷': 'Write `/` to divide.',
  '−': 'Write a plain minus, `-`.',
  '–': 'Write `..` for a range, `-` for a minus.',
  '—': 'Write `..` for a range, `-` for a minus.',
  '…': 'Write `..` for a range.',
  '≤': 'Write `<=`.',
  '≥': 'Write `>=`.',
  '≠': 'Write `!=`.',
  '“': 'Use straight quotes, `"`.',
  '”': 'Use straight quotes, `"`.',
  '„': 'Use straight quotes, `"`.',
  "'": 'Texts stand in double quotes, `"`.',
  '#': 'A comment begins with `//`.',
  ';': 'Lines need no semicolon; remove it.',
  ':': 'Write `=` to give a value.',
  '[': 'Use parentheses, `(`.',
  ']': 'Use parentheses, `)`.',
};

/** A run of characters that belong to no token. */
function describeStray(characters: string, start: number): SyntaxProblem {
  const hint = strayHints[[...characters][0]] ?? 'Remove it.';
  return {
    span: { start, end: start + characters.length },
    message: `\`${shorten(characters)}\` has no meaning in this language. ${hint}`,
  };
}

function describeUnclosedText(token: Token): SyntaxProblem {
  return {
    span: { start: token.startOffset, end: token.end },
    message: 'This text has no closing quote. Add `"` where it ends; a text stays on one line.',
  };
}

/** A piece of the user's text, short enough for a message. */
export function shorten(text: string): string {
  const characters = [...text];
  return characters.length > 24 ? `${characters.slice(0, 23).join('')}…` : text;
}
