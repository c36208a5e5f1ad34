import { createToken, type IToken, type TokenType } from 'chevrotain';
import type { Doc, Span, SyntaxProblem } from './tree';
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

/**
 * Splits a text into tokens, or what stands between the ends of two of its tokens. Never throws; what is no token becomes a
 * problem.
 */
export function tokenize(text: string, from = 0, to = text.length): TokenizeResult {
  const tokens: Token[] = [];
  const comments: IToken[] = [];
  const strays: Span[] = [];
  let firstOnLine = from === 0;
  let previousEnd = from;
  let previousComments = 0;
  let row = 0;
  for (let at = from, end = from; at < to; at = end) {
    anyToken.lastIndex = at;
    if (!anyToken.test(text)) {
      end = at + 1;
      // A run of characters without meaning is one mistake.
      const start = strays.at(-1)?.end === at ? strays.pop()!.start : at;
      strays.push({ start, end });
      continue;
    }
    end = anyToken.lastIndex;
    if (isBlank(text, at)) {
      firstOnLine ||= hasLineBreak(text, at, end);
      continue;
    }
    const image = text.slice(at, end);
    const tokenType = typeOf(image);
    const tokenTypeIdx = tokenType.tokenTypeIdx!;
    if (tokenType === Comment) {
      comments.push({ image, startOffset: at, tokenType, tokenTypeIdx });
      continue;
    }
    if (firstOnLine) row += 1;
    const doc =
      comments.length > previousComments ? docAbove(comments, previousComments, previousEnd, at, text) : undefined;
    tokens.push({ image, startOffset: at, end, tokenType, tokenTypeIdx, firstOnLine, row, doc });
    firstOnLine = false;
    previousEnd = end;
    previousComments = comments.length;
  }
  classifyWords(tokens);
  const problems = [
    ...strays.map((span) => describeStray(text.slice(span.start, span.end), span)),
    ...tokens.filter(({ tokenType }) => tokenType === UnclosedText).map(describeUnclosedText),
  ];
  return { tokens, comments, problems };
}

/** Blanks, words, numbers, comments, texts (the closing quote may be missing) and symbols. */
const anyToken =
  /[\s\uFEFF]+|[A-Za-z_\u00C0-\u00D6\u00D8-\u00F6\u00F8-\u024F\u0370-\u03FF\u0400-\u04FF][\w\u00C0-\u00D6\u00D8-\u00F6\u00F8-\u024F\u0370-\u03FF\u0400-\u04FF]*|(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?|\/\/[^\r\n]*|"[^"\r\n]*"?|\.\.|[=!<>]=|[.,(){}<>=+\-*/^%]/y;

function isBlank(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code <= 32 || (code > 127 && /[\s\uFEFF]/.test(text[at]));
}

/** Of what `anyToken` matches; a word of the language is an identifier until its place is known. */
function typeOf(image: string): TokenType {
  const symbol = symbols.get(image);
  if (symbol !== undefined) return symbol;
  const first = image[0];
  if (first === '/') return Comment;
  if (first === '"') return image.length > 1 && image.endsWith('"') ? Text : UnclosedText;
  return first === '.' || (first >= '0' && first <= '9') ? NumberLiteral : Identifier;
}

const token = (name: string, label = name, categories: TokenType | TokenType[] = []) =>
  createToken({ name, label, categories });
const symbols = new Map<string, TokenType>();
const symbol = (name: string, image: string, categories: TokenType[] = []) => {
  const type = token(name, `"${image}"`, categories);
  symbols.set(image, type);
  return type;
};

/** Anything that may name a thing of the user's: an own word, a direction, or an unreserved word of the language. */
export const Name = token('Name', 'NAME');
export const ClauseWord = token('ClauseWord');
export const Fitting = token('Fitting');
export const Pulling = token('Pulling');
export const Comparison = token('Comparison');
export const SumOperator = token('SumOperator');
export const ProductOperator = token('ProductOperator');

export const Comment = token('Comment');
export const NumberLiteral = token('NumberLiteral', 'NUMBER');
export const Identifier = token('Identifier', 'WORD', Name);
export const Direction = token('Direction', 'DIRECTION', Name);
/** A unit word directly after a number; told from a name by its place. */
export const Unit = token('Unit', 'UNIT');
/** The slash of a quotient of units, `0.4 N/mm`; told from a division by its place. */
export const UnitPer = token('UnitPer', '"/"');
export const Text = token('Text', 'TEXT');
/** A text whose closing quote is missing; it ends with its line and counts as a text. */
export const UnclosedText = token('UnclosedText', 'TEXT', Text);

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
  keywords.map((word) => [word, token(`"${word}"`, `"${word}"`, categoriesOf(word))]),
);

/** The token type of a word of the language. */
export function word(text: string): TokenType {
  return wordTypes.get(text)!;
}

/** Every token type, for the parser. */
export const vocabulary: TokenType[] = [
  Name,
  ClauseWord,
  Fitting,
  Pulling,
  Comparison,
  SumOperator,
  ProductOperator,
  Comment,
  Identifier,
  NumberLiteral,
  Direction,
  Unit,
  UnitPer,
  Text,
  UnclosedText,
  ...symbols.values(),
  ...wordTypes.values(),
];

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

/** The run of `///` comments that ends on the line above `start`, each on a line of its own. */
function docAbove(comments: readonly IToken[], first: number, previousEnd: number, start: number, text: string): Doc {
  const lines: string[] = [];
  let below = start;
  for (let i = comments.length - 1; i >= first; i--) {
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
function describeStray(characters: string, span: Span): SyntaxProblem {
  const hint = strayHints[[...characters][0]] ?? 'Remove it.';
  return {
    span,
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
