import type { IToken } from 'chevrotain';
import { parse } from './parser';
import {
  Comma,
  Comment,
  Dot,
  LeftBrace,
  LeftParenthesis,
  Minus,
  RightBrace,
  RightParenthesis,
  type Token,
  tokenize,
  UnitPer,
} from './tokens';
import type { Name, SourceFile, Span } from './tree';

/**
 * Lays out the text of a `.spring` file: two spaces a level, one statement a line, one space between words, at most
 * one blank line, comments at the ends of neighbouring lines in one column. Keeps every token and comment in order,
 * the user's line breaks inside a statement, and the kind of line break. A text with syntax problems is returned
 * unchanged. Formatting twice changes nothing.
 */
export function format(text: string): string {
  const { tree, problems } = parse(text);
  if (problems.length > 0) return text;
  const { tokens, comments } = tokenize(text);
  const lines = alignComments(layOut(text, tree, mergeInOrder(tokens, comments)));
  const lineBreak = /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
  const mark = text.startsWith('\uFEFF') ? '\uFEFF' : '';
  return mark + lines.map((line) => line + lineBreak).join('');
}

interface Line {
  readonly code: string;
  readonly comment: string;
}

/** Where a piece of text may stand, as far as the tree decides it. */
interface Places {
  /** Offsets where a statement begins. */
  readonly statements: ReadonlySet<number>;
  /** Offsets of names that are called or declared with parentheses. */
  readonly callees: ReadonlySet<number>;
  /** Offsets of minus signs that belong to one value. */
  readonly signs: ReadonlySet<number>;
}

function layOut(text: string, tree: SourceFile, pieces: readonly IToken[]): Line[] {
  const places = findPlaces(tree);
  const closed = findOneLineBlocks(text, pieces, places);
  const lines: Line[] = [];
  let code = '';
  let comment = '';
  let braces = 0;
  let parentheses = 0;
  for (let i = 0; i < pieces.length; i++) {
    const piece = pieces[i];
    const previous = pieces[i - 1];
    const breaks = previous === undefined ? 0 : countLineBreaks(text, endOf(previous), piece.startOffset);
    if (previous === undefined || needsBreak(previous, piece, breaks, places, closed)) {
      if (previous !== undefined) lines.push({ code, comment });
      if (previous !== undefined && breaks > 1 && !is(previous, LeftBrace) && !is(piece, RightBrace)) {
        lines.push({ code: '', comment: '' });
      }
      code = '  '.repeat(indentOf(nextToken(pieces, i), is(piece, Comment), braces, parentheses, places));
      comment = '';
    } else if (!is(piece, Comment) && needsSpace(pieces, i, places)) {
      code += ' ';
    }
    const onOwnLine = code.trim() === '';
    if (is(piece, Comment) && !onOwnLine) comment = piece.image.trimEnd();
    else code += piece.image.trimEnd();
    if (is(piece, LeftBrace)) braces++;
    else if (is(piece, RightBrace)) braces--;
    else if (is(piece, LeftParenthesis)) parentheses++;
    else if (is(piece, RightParenthesis)) parentheses--;
  }
  if (pieces.length > 0) lines.push({ code, comment });
  return lines;
}

function needsBreak(
  previous: IToken,
  piece: IToken,
  breaks: number,
  places: Places,
  closed: ReadonlySet<IToken>,
): boolean {
  if (is(previous, Comment)) return true;
  if (is(piece, Comment)) return breaks > 0;
  if (is(previous, LeftBrace)) return !closed.has(previous);
  if (is(piece, RightBrace)) return !closed.has(piece);
  if (places.statements.has(piece.startOffset)) return true;
  if (is(piece, Comma) || is(piece, LeftBrace)) return false;
  if (is(piece, LeftParenthesis) && places.callees.has(previous.startOffset)) return false;
  if (is(previous, Minus) && places.signs.has(previous.startOffset)) return false;
  return breaks > 0;
}

function needsSpace(pieces: readonly IToken[], index: number, places: Places): boolean {
  const previous = pieces[index - 1];
  const piece = pieces[index];
  if (is(previous, LeftBrace) && is(piece, RightBrace)) return false;
  if (is(previous, LeftParenthesis) || is(piece, RightParenthesis) || is(piece, Comma)) return false;
  if (is(previous, Dot) || is(piece, Dot) || is(previous, UnitPer) || is(piece, UnitPer)) return false;
  if (is(piece, LeftParenthesis)) return !places.callees.has(previous.startOffset);
  return !(is(previous, Minus) && places.signs.has(previous.startOffset));
}

/** Levels before a line that begins with `token`, or with a comment above it. */
function indentOf(
  token: IToken | undefined,
  isComment: boolean,
  braces: number,
  parentheses: number,
  places: Places,
): number {
  if (token === undefined) return braces;
  if (is(token, RightBrace)) return isComment ? braces : braces - 1;
  if (is(token, RightParenthesis)) return braces + (isComment ? parentheses : parentheses - 1);
  const continues = parentheses === 0 && !places.statements.has(token.startOffset);
  return braces + parentheses + (continues ? 1 : 0);
}

/** Puts the comments at the ends of neighbouring lines into one column. */
function alignComments(lines: readonly Line[]): string[] {
  const texts: string[] = [];
  for (let i = 0; i < lines.length; ) {
    let end = i + 1;
    if (lines[i].comment !== '') {
      while (end < lines.length && lines[end].comment !== '') end++;
    }
    const run = lines.slice(i, end);
    const width = Math.max(...run.map(({ code }) => code.length));
    for (const { code, comment } of run) texts.push(comment === '' ? code : `${code.padEnd(width)} ${comment}`);
    i = end;
  }
  return texts;
}

/** The braces of blocks that the user wrote on one line and that hold one statement or none. */
function findOneLineBlocks(text: string, pieces: readonly IToken[], places: Places): ReadonlySet<IToken> {
  const closed = new Set<IToken>();
  const open: { brace: IToken; statements: number; comments: number }[] = [];
  for (const piece of pieces) {
    if (is(piece, LeftBrace)) open.push({ brace: piece, statements: 0, comments: 0 });
    else if (is(piece, RightBrace)) {
      const block = open.pop()!;
      const breaks = countLineBreaks(text, block.brace.startOffset, piece.startOffset);
      if (block.comments === 0 && (block.statements === 0 || (block.statements === 1 && breaks === 0))) {
        closed.add(block.brace).add(piece);
      }
    } else {
      for (const block of open) {
        if (is(piece, Comment)) block.comments++;
        else if (places.statements.has(piece.startOffset)) block.statements++;
      }
    }
  }
  return closed;
}

function findPlaces(tree: SourceFile): Places {
  const statements = new Set<number>();
  const callees = new Set<number>();
  const signs = new Set<number>();
  visit(tree, (node, list) => {
    if (list !== undefined && statementLists.has(list)) statements.add(node.span.start);
    if (node.kind === 'unary') signs.add(node.span.start);
    const callee =
      node.kind === 'call'
        ? node.part
        : node.kind === 'follow'
          ? node.curve
          : node.kind === 'function' || node.kind === 'part'
            ? node.name
            : undefined;
    if (callee !== undefined) callees.add(callee.span.start);
  });
  return { statements, callees, signs };
}

/** The tree's lists whose elements are statements. */
const statementLists: ReadonlySet<string> = new Set([
  'items',
  'properties',
  'members',
  'values',
  'body',
  'seats',
  'conditions',
]);

/** What every node of the tree may have, as far as the layout asks. */
interface Node {
  readonly span: Span;
  readonly kind?: string;
  readonly name?: Name;
  readonly part?: Name;
  readonly curve?: Name;
}

/** Calls `enter` for every node with a span, and the name of the list that holds it. */
function visit(value: unknown, enter: (node: Node, list: string | undefined) => void, list?: string): void {
  if (typeof value !== 'object' || value === null) return;
  if ('span' in value) enter(value as Node, list);
  for (const [key, child] of Object.entries(value)) {
    if (Array.isArray(child)) for (const element of child) visit(element, enter, key);
    else visit(child, enter);
  }
}

function mergeInOrder(tokens: readonly Token[], comments: readonly IToken[]): IToken[] {
  return [...tokens, ...comments].sort((a, b) => a.startOffset - b.startOffset);
}

function nextToken(pieces: readonly IToken[], index: number): IToken | undefined {
  let i = index;
  while (i < pieces.length && is(pieces[i], Comment)) i++;
  return pieces[i];
}

function countLineBreaks(text: string, start: number, end: number): number {
  return text.slice(start, end).match(/\r\n|\n|\r/g)?.length ?? 0;
}

function endOf(piece: IToken): number {
  return piece.startOffset + piece.image.length;
}

function is(piece: IToken, type: IToken['tokenType']): boolean {
  return piece.tokenType === type;
}
