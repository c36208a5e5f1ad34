/**
 * Where in the language the cursor stands, from the tokens before it. Tokens, not the tree: the text
 * is half-written just where completion is wanted.
 */
import { Direction, Identifier, type Token, tokenize, UnclosedText } from '#grammar/tokens';
import { functionNames, itemWords, memberWords, reservedWords, stepWords } from '#grammar/words';
import { isKeyword } from '../token-at';

export type BlockKind = 'file' | 'appliance' | 'variant' | 'path' | 'seats' | 'conditions' | 'alloy' | 'unknown';

export interface Parenthesis {
  readonly kind: 'arguments' | 'parameters' | 'function' | 'group';
  /** What stands before it: a part's or a function's name. */
  readonly name: string | undefined;
  /** Names already given a value inside. */
  readonly given: string[];
  /** Commas so far: the place among the arguments. */
  separators: number;
  /** The name whose value is being written. */
  argument: string | undefined;
}

export interface CompletionContext {
  readonly block: BlockKind;
  /** Open parentheses of the statement, the innermost last. */
  readonly parentheses: readonly Parenthesis[];
  readonly parenthesis: Parenthesis | undefined;
  /** Letters before the cursor that belong to the word being written. */
  readonly word: string;
  /** Tokens of the statement so far, the word under the cursor left out. */
  readonly statement: readonly Token[];
  /** The token before the cursor. */
  readonly last: Token | undefined;
  /** True where no token of the statement stands before the cursor on its line. */
  readonly lineStart: boolean;
  /** Names that have a value in the alloy's or variant's block so far. */
  readonly givenProperties: readonly string[];
  /** In a variant: the appliance that it varies. */
  readonly varied: string | undefined;
  /** The text inside the quotes at the cursor, where it stands in a text. */
  readonly quoted: string | undefined;
}

/** Undefined in a comment, where nothing is to be completed. */
export function completionContext(text: string, offset: number): CompletionContext | undefined {
  const word = /[\p{L}_][\p{L}\p{N}_]*$/u.exec(text.slice(Math.max(0, offset - 200), offset))?.[0] ?? '';
  const before = text.slice(0, offset - word.length);
  const { tokens, comments } = tokenize(before);
  const comment = comments.at(-1);
  if (comment !== undefined && comment.startOffset + comment.image.length === before.length) return undefined;

  const { block, start, parentheses } = follow(tokens);
  const statement = tokens.slice(start);
  const last = tokens.at(-1);
  return {
    block,
    parentheses,
    parenthesis: parentheses.at(-1),
    word,
    givenProperties: block === 'alloy' || block === 'variant' ? propertiesBefore(tokens) : [],
    varied: block === 'variant' ? variedBefore(tokens) : undefined,
    statement,
    last,
    lineStart: statement.length === 0 || /[\r\n]/.test(before.slice(last?.end ?? 0)),
    quoted: last?.tokenType === UnclosedText && last.end === before.length ? last.image.slice(1) + word : undefined,
  };
}

/** Follows blocks, parentheses and statements up to the last token. */
function follow(tokens: readonly Token[]): { block: BlockKind; start: number; parentheses: Parenthesis[] } {
  const blocks: BlockKind[] = ['file'];
  let parentheses: Parenthesis[] = [];
  let start = 0;
  tokens.forEach((token, index) => {
    const block = blocks[blocks.length - 1];
    const head = tokens[start]?.image ?? '';
    switch (token.image) {
      case '{':
        blocks.push(blockAfter(block, head));
        parentheses = [];
        start = index + 1;
        return;
      case '}':
        if (blocks.length > 1) blocks.pop();
        parentheses = [];
        start = index + 1;
        return;
      case '(':
        parentheses.push(parenthesisAfter(block, head, tokens, index, start));
        return;
      case ')':
        parentheses.pop();
        return;
      case '=':
        giveValue(parentheses.at(-1), tokens[index - 1]?.image ?? '');
        return;
      case ',':
        nextArgument(parentheses.at(-1));
        return;
    }
    if (startsStatement(token, block, head, parentheses.length > 0)) {
      parentheses = [];
      start = index;
    }
  });
  return { block: blocks[blocks.length - 1], start, parentheses };
}

/** Names before an equals sign, back to the brace that opens the block. */
function propertiesBefore(tokens: readonly Token[]): string[] {
  const open = tokens.findLastIndex(({ image }) => image === '{');
  return tokens.flatMap(({ image }, index) => (index > open && tokens[index + 1]?.image === '=' ? [image] : []));
}

/** The name after `of` before the brace that opens a variant. */
function variedBefore(tokens: readonly Token[]): string | undefined {
  const head = tokens.findLastIndex(({ image }) => image === 'variant');
  const of = tokens.findIndex(({ image }, index) => index > head && image === 'of');
  return of < 0 ? undefined : tokens[of + 1]?.image;
}

function giveValue(parenthesis: Parenthesis | undefined, name: string): void {
  if (parenthesis === undefined) return;
  parenthesis.given.push(name);
  parenthesis.argument = name;
}

function nextArgument(parenthesis: Parenthesis | undefined): void {
  if (parenthesis === undefined) return;
  parenthesis.separators += 1;
  parenthesis.argument = undefined;
}

const BLOCKS = {
  appliance: 'appliance',
  auxiliary: 'appliance',
  variant: 'variant',
  alloy: 'alloy',
  part: 'path',
} as const;

function blockAfter(block: BlockKind, head: string): BlockKind {
  if (block === 'file') {
    return BLOCKS[head as keyof typeof BLOCKS] ?? 'unknown';
  }
  if (head === 'path' || head === 'repeat') return 'path';
  if (head === 'follow') return 'seats';
  return head === 'require' || head === 'prefer' ? 'conditions' : 'unknown';
}

function parenthesisAfter(
  block: BlockKind,
  head: string,
  tokens: readonly Token[],
  index: number,
  start: number,
): Parenthesis {
  const before = tokens[index - 1];
  const name = before !== undefined && /^\p{L}/u.test(before.image) ? before.image : undefined;
  const empty = { given: [], separators: 0, argument: undefined };
  if (block === 'file' && head === 'part') return { kind: 'parameters', name, ...empty };
  const leading = tokens.slice(start, index - 1).every(({ image }) => image === 'flip' || image === 'mirror');
  if (block === 'path' && name !== undefined && leading) return { kind: 'arguments', name, ...empty };
  return (functionNames as readonly string[]).includes(name ?? '')
    ? { kind: 'function', name, ...empty }
    : { kind: 'group', name: undefined, ...empty };
}

const starters: Readonly<Record<BlockKind, readonly string[]>> = {
  file: itemWords,
  appliance: memberWords,
  path: stepWords,
  seats: ['seat'],
  variant: [],
  conditions: [],
  alloy: [],
  unknown: [],
};

function startsStatement(token: Token, block: BlockKind, head: string, inParentheses: boolean): boolean {
  const isWord = isKeyword(token);
  // A word that may be a name too begins a statement where it begins a line.
  const begins = token.firstOnLine || reservedWords.has(token.image) || block === 'file';
  if (isWord && begins && starters[block].includes(token.image)) {
    const afterRequire = (head === 'require' || head === 'prefer') && token.image === 'activation';
    const partAfterFlip = head === 'flip' && token.image === 'mirror';
    return !afterRequire && !partAfterFlip && !(inParentheses && !token.firstOnLine);
  }
  if (!token.firstOnLine || inParentheses) return false;
  const isName = token.tokenType === Identifier || token.tokenType === Direction || isWord;
  return (
    isName &&
    block !== 'file' &&
    block !== 'appliance' &&
    block !== 'unknown' &&
    !['and', 'or', 'because'].includes(token.image)
  );
}
