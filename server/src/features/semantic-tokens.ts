/** What each word is, for colouring: names by what they mean, words of the language by their use. */
import type { Range, SemanticTokens } from 'vscode-languageserver-types';
import { Direction, Identifier, NumberLiteral, Text, type Token, tokenize, UnclosedText, Unit } from '#grammar/tokens';
import type { Span } from '#grammar/tree';
import { functionNames } from '#grammar/words';
import type { Definition, Reference } from '#model/resolved';
import type { Snapshot } from '#workspace/snapshot';
import { bundledName, canonicalUri } from '#workspace/uri';
import { offsetAt, positionAt } from './positions';
import { isKeyword } from './token-at';

/** Those beyond the protocol's own stand in package.json, with the scopes that themes know. */
export const semanticTokenTypes = [
  'comment',
  'string',
  'number',
  'keyword',
  'operator',
  'function',
  'parameter',
  'variable',
  'property',
  'class',
  'struct',
  'unit',
  'direction',
  'attachment',
  'loop',
] as const;

export const semanticTokenModifiers = ['declaration', 'defaultLibrary', 'documentation'] as const;

type TokenType = (typeof semanticTokenTypes)[number];
type TokenModifier = (typeof semanticTokenModifiers)[number];

/** Of the whole text, or of what touches a range. */
export function provideSemanticTokens(snapshot: Snapshot, range?: Range): SemanticTokens {
  const start = range === undefined ? 0 : offsetAt(snapshot, range.start);
  const end = range === undefined ? snapshot.text.length : offsetAt(snapshot, range.end);
  const data: number[] = [];
  let line = 0;
  let character = 0;
  for (const { span, type, modifiers } of colouredSpans(snapshot)) {
    if (span.end < start || span.start > end) continue;
    const at = positionAt(snapshot, span.start);
    const bits = modifiers.reduce((sum, modifier) => sum | (1 << semanticTokenModifiers.indexOf(modifier)), 0);
    data.push(at.line - line, at.line === line ? at.character - character : at.character);
    data.push(span.end - span.start, semanticTokenTypes.indexOf(type), bits);
    ({ line, character } = at);
  }
  return { data };
}

interface ColouredSpan {
  readonly span: Span;
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

/** In the order of the text; none overlaps another or goes beyond its line. */
function colouredSpans({ text, file }: Snapshot): ColouredSpan[] {
  const { tokens, comments } = tokenize(text);
  const references = new Map(file.references.map((reference) => [reference.span.start, reference]));
  const words = tokens.flatMap((token, index): ColouredSpan[] => {
    const kind = kindOf(token, tokens, index, references.get(token.startOffset), file.uri);
    return kind === undefined ? [] : [{ span: { start: token.startOffset, end: token.end }, ...kind }];
  });
  const remarks = comments.map(
    ({ image, startOffset }): ColouredSpan => ({
      span: { start: startOffset, end: startOffset + image.length },
      type: 'comment',
      modifiers: /^\/\/\/(?!\/)/.test(image) ? ['documentation'] : [],
    }),
  );
  return [...words, ...remarks].sort((left, right) => left.span.start - right.span.start);
}

type Kind = Omit<ColouredSpan, 'span'>;

function kindOf(
  token: Token,
  tokens: readonly Token[],
  index: number,
  reference: Reference | undefined,
  uri: string,
): Kind | undefined {
  const { image, tokenType } = token;
  if (reference !== undefined && reference.span.end === token.end) return nameKind(reference, uri);
  if (tokenType === NumberLiteral) return plain('number');
  if (tokenType === Unit) return plain('unit');
  if (tokenType === Text || tokenType === UnclosedText) return plain('string');
  if (tokens[index - 1]?.image === '.') return plain('property');
  if (tokenType === Direction) return plain('direction');
  if (isKeyword(token)) return plain('keyword');
  if (tokenType === Identifier) return wordKind(image, tokens[index + 1]?.image);
  return /^(?:[-+*/^<>=]|\.\.|[<>=!]=)$/.test(image) ? plain('operator') : undefined;
}

/** A word that no definition is known for: a function, an argument or property, or a name still to be defined. */
function wordKind(image: string, next: string | undefined): Kind {
  if (next === '(') {
    const own = (functionNames as readonly string[]).includes(image);
    return { type: 'function', modifiers: own ? ['defaultLibrary'] : [] };
  }
  return plain(next === '=' ? 'property' : 'variable');
}

function nameKind({ definition, span }: Reference, uri: string): Kind {
  const declares = span.start === definition.span.start && canonicalUri(uri) === canonicalUri(definition.uri);
  const bundled = bundledName(canonicalUri(definition.uri)) !== undefined;
  return {
    type: typeOf[definition.kind],
    modifiers: [...(declares ? (['declaration'] as const) : []), ...(bundled ? (['defaultLibrary'] as const) : [])],
  };
}

const typeOf: Readonly<Record<Definition['kind'], TokenType>> = {
  let: 'variable',
  parameter: 'parameter',
  alloy: 'struct',
  section: 'struct',
  slot: 'struct',
  part: 'function',
  appliance: 'class',
  variant: 'class',
  auxiliary: 'class',
  attachment: 'attachment',
  mark: 'variable',
  loop: 'loop',
  load: 'attachment',
  group: 'attachment',
  property: 'property',
};

function plain(type: TokenType): Kind {
  return { type, modifiers: [] };
}
