/** Semantic tokens, folding, growing selections. */
import { describe, expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { SelectionRange } from 'vscode-languageserver-types';
import { provideFoldingRanges } from '#features/folding-ranges';
import { provideSelectionRanges } from '#features/selection-ranges';
import { provideSemanticTokens, semanticTokenModifiers, semanticTokenTypes } from '#features/semantic-tokens';
import { readFixture, snapshotOf } from './fixture';
import { loop } from './samples';

describe('semantic tokens', () => {
  it('tell names by what they mean', async () => {
    const tokens = await colours(loop);
    expect(tokens).toEqual(
      expect.arrayContaining([
        'vertical: function declaration',
        'vertical: function',
        'height: parameter declaration',
        'height: parameter',
        'beta_titanium: struct defaultLibrary',
        'closing: class declaration',
        'gable: parameter',
        'molar: attachment declaration',
        'molar: attachment',
        'loop: loop declaration',
        'loop: loop',
        'leg_gap: property',
        'distal: property',
        'gingival: direction',
        'mm: unit',
        '90: number',
        'toward: keyword',
        '>=: operator',
        '..: operator',
        '"alloys": string',
        '/// An open vertical loop.: comment documentation',
      ]),
    );
  });

  it('take words that are unreserved as names where they are names', async () => {
    const tokens = await colours('part p(width = 2 mm) {\n  straight width\n}\n');
    expect(tokens).toContain('width: parameter declaration');
    expect(tokens).toContain('width: parameter');
  });

  it('stand in order, do not overlap and stay on their lines, also in half a file', async () => {
    for (let end = 0; end <= loop.length; end += 23) {
      const text = loop.slice(0, end);
      let last = 0;
      for (const { start, length } of await placed(text)) {
        expect(start).toBeGreaterThanOrEqual(last);
        expect(text.slice(start, start + length)).not.toMatch(/[\r\n]/);
        last = start + length;
      }
      expect(last).toBeLessThanOrEqual(text.length);
    }
  });

  it('of a range are those of the whole text that lie in it', async () => {
    const snapshot = await snapshotOf(loop);
    const range = { start: { line: 4, character: 0 }, end: { line: 6, character: 0 } };
    const { data } = provideSemanticTokens(snapshot, range);
    expect(data[0]).toBe(4);
    expect(data.length).toBeLessThan(provideSemanticTokens(snapshot).data.length / 4);
  });
});

describe('folding', () => {
  it('has blocks, comments and uses', async () => {
    const text = `// A design
// in two lines
use "alloys"
use "loops"

appliance a {
  path running mesial {
    closed_loop(
      height = 7 mm
    )
  }
}
`;
    expect(provideFoldingRanges(await snapshotOf(text))).toEqual([
      { startLine: 0, endLine: 1, kind: 'comment' },
      { startLine: 2, endLine: 3, kind: 'imports' },
      { startLine: 5, endLine: 10 },
      { startLine: 6, endLine: 9 },
      { startLine: 7, endLine: 8 },
    ]);
  });

  it('holds in a file with errors', async () => {
    const folds = provideFoldingRanges(await snapshotOf('part p( {\n straight\n\n}\nappliance {\n bend\n}\n'));
    expect(folds).toContainEqual({ startLine: 4, endLine: 5 });
  });
});

describe('selection', () => {
  it('grows from a word to its expression, line, block and item', async () => {
    await checkSelection(
      loop.replace('straight height - width / 2\n  foot\n  bend', 'straight height - wi$0dth / 2\n  foot\n  bend'),
      [
        'width',
        'width / 2',
        'height - width / 2',
        'straight height - width / 2',
        /^bend 90 deg toward gingival[\s\S]*mesial radius 0 mm$/,
        /^\{\n {2}bend[\s\S]*\}$/,
        /^part vertical[\s\S]*\}$/,
      ],
    );
  });

  it('grows from a result to its condition and block', async () => {
    await checkSelection(loop.replace('canine.force.distal', 'canine.fo$0rce.distal'), [
      'force',
      'canine.force.distal',
      'canine.force.distal >= 0.1 N',
      /^canine[\s\S]*>= 0 mm$/,
      /^\{[\s\S]*\}$/,
      /^require[\s\S]*\}$/,
    ]);
  });

  it('holds in a file with errors', async () => {
    const broken = loop.replace('seat canine', 'seat').replace('straight 3 mm', 'straight (gab$0le + ');
    await checkSelection(broken, ['gable']);
  });
});

async function placed(text: string) {
  const { data } = provideSemanticTokens(await snapshotOf(text));
  const document = TextDocument.create('', '', 1, text);
  const tokens = [];
  let [line, character] = [0, 0];
  for (let index = 0; index < data.length; index += 5) {
    const [lines, characters, length, type, modifiers] = data.slice(index, index + 5);
    character = lines === 0 ? character + characters : characters;
    line += lines;
    tokens.push({ start: document.offsetAt({ line, character }), length, type, modifiers });
  }
  return tokens;
}

async function colours(text: string): Promise<string[]> {
  return (await placed(text)).map(({ start, length, type, modifiers }) => {
    const names = semanticTokenModifiers.filter((_, bit) => (modifiers & (1 << bit)) !== 0);
    return `${text.slice(start, start + length)}: ${[semanticTokenTypes[type], ...names].join(' ')}`;
  });
}

/** The steps of the selection, innermost first, begin with these. */
async function checkSelection(marked: string, steps: readonly (string | RegExp)[]): Promise<void> {
  const { text, cursor } = readFixture(marked);
  const document = TextDocument.create('', '', 1, text);
  const texts: string[] = [];
  const [innermost] = provideSelectionRanges(await snapshotOf(text), [cursor!]);
  for (let at: SelectionRange | undefined = innermost; at !== undefined; at = at.parent) {
    texts.push(document.getText(at.range));
  }
  expect(texts.at(-1)).toBe(text);
  steps.forEach((step, index) => {
    if (typeof step === 'string') expect(texts[index]).toBe(step);
    else expect(texts[index]).toMatch(step);
  });
}
