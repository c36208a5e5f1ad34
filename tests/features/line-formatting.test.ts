/** Formatting of ranges, on type, and around what is broken. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { TextEdit } from 'vscode-languageserver-types';
import { provideFormatting } from '#features/formatting';
import { provideOnTypeFormatting, provideRangeFormatting } from '#features/line-formatting';
import { tokenize } from '#grammar/tokens';
import { readFixture, snapshotOf, wholeText } from './fixture';
import { loop, vBend } from './samples';

const untidy = `use   "alloys"
let a=1 mm
let b   =   2 mm   // two


let c= 3 mm
`;

describe('range formatting', () => {
  it('changes whole lines of the range and no others', async () => {
    expect(await formattedRange(untidy, 1, 1)).toBe(untidy.replace('let a=1 mm', 'let a = 1 mm'));
    expect(await formattedRange(untidy, 2, 5)).toBe(
      'use   "alloys"\nlet a=1 mm\nlet b = 2 mm // two\n\nlet c = 3 mm\n',
    );
  });

  it('of the whole text is its formatting', async () => {
    const snapshot = await snapshotOf(untidy);
    const range = await formattedRange(untidy, 0, 10);
    expect(range).toBe(apply(untidy, provideFormatting(snapshot)));
  });

  it('is nothing in a tidy text', async () => {
    for (const text of [loop, vBend, '']) {
      expect(provideRangeFormatting(await snapshotOf(text), wholeText)).toEqual([]);
    }
  });

  it('takes a line that becomes several as one', async () => {
    const text = 'let a =\n1 mm let b = 2 mm\nlet  c = 3 mm\n';
    expect(await formattedRange(text, 1, 1)).toBe('let a =\n  1 mm\nlet b = 2 mm\nlet  c = 3 mm\n');
  });
});

describe('formatting on type', () => {
  it('lays out the block that a brace closes', async () => {
    const { text, cursor } = readFixture('let x=1 mm\npart p(a=1 mm){\nstraight   a\n}$0\nlet y=2 mm\n');
    const edits = provideOnTypeFormatting(await snapshotOf(text), cursor!, '}');
    expect(apply(text, edits)).toBe('let x=1 mm\npart p(a = 1 mm) {\n  straight a\n}\nlet y=2 mm\n');
  });

  it('lays out the line that a line break ends, and leaves the blank one', async () => {
    const { text, cursor } = readFixture('part p(a = 1 mm) {\n  straight   a\n  $0\n  bend  9 deg toward mesial\n}\n');
    const edits = provideOnTypeFormatting(await snapshotOf(text), cursor!, '\n');
    expect(apply(text, edits)).toBe('part p(a = 1 mm) {\n  straight a\n  \n  bend  9 deg toward mesial\n}\n');
  });
});

describe('formatting of a file with errors', () => {
  const broken = 'part p(a=1 mm){\n straight a\n}\n\npart  q( {\n   bend\n}\n\nlet  b=2 mm\n';

  it('leaves broken items as they are and lays out the others', async () => {
    const formatted = apply(broken, provideFormatting(await snapshotOf(broken)));
    expect(formatted).toContain('part p(a = 1 mm) {\n  straight a\n}\n');
    expect(formatted).toContain('part  q( {\n   bend\n}');
  });

  it('never loses a token or a comment, and changes nothing the second time', async () => {
    const cut = fc.tuple(fc.constantFrom(loop, vBend, untidy), fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(40));
    await fc.assert(
      fc.asyncProperty(cut, async ([whole, share, length]) => {
        const at = Math.floor(share * whole.length);
        const text = whole.slice(0, at) + whole.slice(at + length);
        const once = apply(text, provideFormatting(await snapshotOf(text)));
        expect(words(once)).toEqual(words(text));
        expect(apply(once, provideFormatting(await snapshotOf(once)))).toBe(once);
        const ranged = apply(text, provideRangeFormatting(await snapshotOf(text), wholeText));
        expect(words(ranged)).toEqual(words(text));
      }),
      { numRuns: 100, seed: 4711 },
    );
  }, 60_000);
});

function words(text: string): string[] {
  const { tokens, comments } = tokenize(text);
  return [...tokens, ...comments]
    .sort((left, right) => left.startOffset - right.startOffset)
    .map(({ image }) => image.trimEnd());
}

async function formattedRange(text: string, from: number, to: number): Promise<string> {
  const range = { start: { line: from, character: 0 }, end: { line: to, character: 1000 } };
  return apply(text, provideRangeFormatting(await snapshotOf(text), range));
}

function apply(text: string, edits: TextEdit[]): string {
  return TextDocument.applyEdits(TextDocument.create('', 'springwright', 1, text), edits);
}
