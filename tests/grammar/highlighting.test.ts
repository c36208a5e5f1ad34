import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import oniguruma from 'vscode-oniguruma';
import textmate from 'vscode-textmate';
import { parse } from '#grammar/parser';
import { Comment, Direction, Identifier, NumberLiteral, Text, tokenize, Unit } from '#grammar/tokens';
import { reservedWords, unitWords } from '#grammar/words';
import { springFiles } from './samples';
import { flatten, nodesOf } from './tree-walk';

const grammarPath = join(import.meta.dirname, '../../grammar/spring.tmLanguage.json');
const configurationPath = join(import.meta.dirname, '../../grammar/language-configuration.json');
let grammar: textmate.IGrammar;

beforeAll(async () => {
  const wasm = readFileSync(createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm'));
  await oniguruma.loadWASM(wasm);
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(readFileSync(grammarPath, 'utf8'), grammarPath),
  });
  grammar = (await registry.loadGrammar('source.springwright'))!;
});

/** The innermost scope at each offset, without the language's suffix. */
function scopesOf(text: string): (offset: number) => string {
  const scopes: string[] = [];
  let state = textmate.INITIAL;
  let lineStart = 0;
  for (const line of text.split('\n')) {
    const { tokens, ruleStack } = grammar.tokenizeLine(line, state);
    state = ruleStack;
    for (const token of tokens) {
      const scope = token.scopes.at(-1)!.replace(/\.?springwright$/, '');
      scopes.fill('', scopes.length);
      for (let i = token.startIndex; i < token.endIndex; i++) scopes[lineStart + i] = scope;
    }
    lineStart += line.length + 1;
  }
  return (offset) => scopes[offset] ?? '';
}

/** Each word of a line with its scope. */
function scopesOfWords(line: string): string[] {
  const at = scopesOf(line);
  return [...line.matchAll(/[\w%]+(?:\.\d+)?/g)].map(({ 0: word, index }) => `${word}: ${at(index)}`);
}

const word = /^(?:keyword|storage|constant\.language)/;

const knownUnits = new Set<string>(Object.values(unitWords).flat());

describe.each(springFiles('tests/grammar/fixtures', 'examples', 'server/library'))('$name', ({ text }) => {
  it('is coloured as the tokens are', () => {
    const at = scopesOf(text);
    const { tokens, comments } = tokenize(text);
    const wrong: string[] = [];
    const want = (start: number, image: string, scope: RegExp) => {
      if (!scope.test(at(start))) wrong.push(`${image} at ${start}: ${at(start)}, not ${scope.source}`);
    };
    for (const { tokenType, startOffset, image } of tokens) {
      if (tokenType === NumberLiteral) want(startOffset, image, /^constant\.numeric$/);
      else if (tokenType === Unit) {
        // An unknown unit does not look like a known one.
        want(startOffset, image, knownUnits.has(image) ? /^keyword\.other\.unit$/ : /^variable/);
      } else if (tokenType === Text) want(startOffset, image, /^punctuation\.definition\.string\.begin$/);
      else if (tokenType === Identifier) want(startOffset, image, /^(?:variable|entity|support)/);
      else if (tokenType === Direction) want(startOffset, image, /^constant\.language\.direction$/);
      else if (reservedWords.has(image)) want(startOffset, image, word);
    }
    for (const { tokenType, startOffset, image } of comments) {
      expect(tokenType).toBe(Comment);
      want(startOffset, image, /^comment\.line/);
    }
    for (const { kind, span } of flatten(nodesOf(parse(text).tree))) {
      if (kind === 'name') want(span.start, text.slice(span.start, span.end), /^variable/);
    }
    expect(wrong).toEqual([]);
  });
});

describe('scopes', () => {
  it.each([
    ['appliance loop {', ['appliance: storage.type', 'loop: entity.name.type']],
    [
      'let a = 2 N mm + 0.4 N/mm',
      [
        'let: storage.type',
        'a: variable.other.definition',
        '2: constant.numeric',
        'N: keyword.other.unit',
        'mm: keyword.other.unit',
        '0.4: constant.numeric',
        'N: keyword.other.unit',
        'mm: keyword.other.unit',
      ],
    ],
    [
      'wire 0.017 in x 0.025 in of steel',
      [
        'wire: keyword.other',
        '0.017: constant.numeric',
        'in: keyword.other.unit',
        'x: keyword.other',
        '0.025: constant.numeric',
        'in: keyword.other.unit',
        'of: keyword.other',
        'steel: variable.other.readwrite',
      ],
    ],
    [
      'param turns = 2 in 1 .. 4',
      [
        'param: storage.type',
        'turns: variable.other.definition',
        '2: constant.numeric',
        'in: keyword.other',
        '1: constant.numeric',
        '4: constant.numeric',
      ],
    ],
    [
      'loop.tip >= 80 % and not a',
      [
        'loop: variable.other.object',
        'tip: variable.other.property',
        '80: constant.numeric',
        '%: keyword.other.unit',
        'and: keyword.operator.logical',
        'not: keyword.operator.logical',
        'a: variable.other.readwrite',
      ],
    ],
    [
      'flip closed_loop(width = min(a, width))',
      [
        'flip: keyword.other',
        'closed_loop: entity.name.function',
        'width: variable.parameter',
        'min: support.function',
        'a: variable.other.readwrite',
        'width: variable.other.readwrite',
      ],
    ],
    [
      'tube molar slot s022, length 4 mm, at 3 mm mesial, tied',
      [
        'tube: storage.type',
        'molar: variable.other.attachment',
        'slot: keyword.other',
        's022: variable.other.readwrite',
        'length: keyword.other',
        '4: constant.numeric',
        'mm: keyword.other.unit',
        'at: keyword.other',
        '3: constant.numeric',
        'mm: keyword.other.unit',
        'mesial: constant.language.direction',
        'tied: keyword.other',
      ],
    ],
    ['/// about', ['about: comment.line.documentation']],
    ['"open', ['open: invalid.illegal.unclosed-text']],
  ])('%s', (line, expected) => {
    expect(scopesOfWords(line)).toEqual(expected);
  });
});

describe('language configuration', () => {
  const configuration = JSON.parse(readFileSync(configurationPath, 'utf8'));

  it('continues a doc comment on the next line, and stops at an empty one', () => {
    const [rule] = configuration.onEnterRules;
    expect('  /// Closes a space.').toMatch(new RegExp(rule.beforeText));
    expect(rule.action.appendText).toBe('/// ');
    expect('  /// ').not.toMatch(new RegExp(rule.beforeText));
    expect('  // plain').not.toMatch(new RegExp(rule.beforeText));
  });

  it('indents after an open bracket and takes a closing one back', () => {
    const { increaseIndentPattern, decreaseIndentPattern } = configuration.indentationRules;
    for (const line of ['path running mesial {', 'part loop(', 'appliance a { // opens']) {
      expect(line).toMatch(new RegExp(increaseIndentPattern));
    }
    for (const line of ['straight (a + b)', 'foot // {', 'prefer at neutral { a > 1 N }', 'use "{"']) {
      expect(line).not.toMatch(new RegExp(increaseIndentPattern));
    }
    expect('  }').toMatch(new RegExp(decreaseIndentPattern));
  });

  it('takes a name and a number each as one word', () => {
    const words = 'gable_1 = 0.5 mm + größe'.match(new RegExp(configuration.wordPattern, 'g'));
    expect(words).toEqual(['gable_1', '0.5', 'mm', 'größe']);
  });
});
