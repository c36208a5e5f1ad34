/** After any edit, what is parsed again and what is taken over are together what the whole text parses to. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import type { ParsedText } from '#grammar/reparse';
import { loop, vBend } from '../features/samples';
import { fixtures, springFiles } from './samples';

const EDITS = 6_000;

const texts = [`${vBend}\n${loop}`, ...pairs(fixtures), ...pairs(springFiles('examples/errors'))];
const declaration = 'part arm(length = 6 mm) {\n  straight length\n}';
const piece = fc.oneof(
  fc.constantFrom(
    ...'{ } ( ) , = .. . " / // /// + - ^ < == [ § \uFEFF \r \r\n \n \u2028'.split(' '),
    ...'in x let use part appliance variant slot section alloy auxiliary of wire bend repeat 3 mm 1 N a b'.split(' '),
  ),
  fc.constantFrom('\n', '\n\n', ' ', '}\n', '\n/// Above.\n', '// ', '"text', '((((', 'let a = 3 mm\n', '\n,5', '{ {'),
  fc.constantFrom(
    `\n${declaration}\n`,
    `${declaration} ${declaration}`,
    '\nappliance a {\n',
    '\nsection\n a\n = b\n',
    '\nlet b = (1 + 2\n',
  ),
  fc.string({ unit: 'binary', maxLength: 3 }),
);
const edit = fc.record({
  place: fc.double({ min: 0, max: 1, noNaN: true }),
  /** Edits come where lines and declarations begin and end more often than elsewhere. */
  near: fc.constantFrom(undefined, '\n', '\n}', '}\n', '\nappliance', '\npart', '\n///', '{'),
  remove: fc.oneof(fc.constant(0), fc.nat(3), fc.nat(60), fc.nat(600)),
  insert: fc.array(piece, { maxLength: 3 }),
  undone: fc.constantFrom(true, true, true, false),
});

it(`parses ${EDITS} edits as if each text were new`, { timeout: 240_000 }, () => {
  const done = { edits: 0, sound: 0, broken: 0, mended: 0, kept: 0 };
  const change = (from: ParsedText, text: string): ParsedText => {
    const again = parse(text, from);
    expect(again, JSON.stringify([from.text, text])).toStrictEqual(parse(text));
    done.edits += 1;
    if (again.problems.length > 0) done.broken += 1;
    else if (from.parse.problems.length > 0) done.mended += 1;
    else done.sound += 1;
    done.kept += again.tree.items.filter((item) => from.parse.tree.items.includes(item)).length;
    return { text, parse: again };
  };
  fc.assert(
    fc.property(fc.constantFrom(...texts), fc.array(edit, { minLength: 8, maxLength: 8 }), (given, edits) => {
      let known: ParsedText = { text: given, parse: parse(given) };
      for (const { place, near, remove, insert, undone } of edits) {
        const { text } = known;
        const anywhere = Math.floor(place * text.length);
        const at = near === undefined ? anywhere : Math.max(0, text.indexOf(near, anywhere)) + (remove % 3);
        const edited = change(known, text.slice(0, at) + insert.join('') + text.slice(at + remove));
        known = undone ? change(edited, text) : edited;
      }
    }),
    { seed: 20_261_129, numRuns: EDITS / 8 },
  );
  // Edits that break nothing, everything or for good, and texts of which nothing is taken over, would try little.
  expect(done.edits).toBeGreaterThan(EDITS);
  for (const count of [done.sound, done.broken, done.mended]) expect(count).toBeGreaterThan(done.edits / 10);
  expect(done.kept).toBeGreaterThan(done.edits / 2);
});

it('tells a mistake once where a declaration and what is wrong before and after it share a line', () => {
  const [text, edited] = ['1  ', '1 + '].map((value) => `let a = ${value} part b() { straight 1 mm } ,\n`);
  expect(parse(edited, { text, parse: parse(text) })).toStrictEqual(parse(edited));
  expect(parse(edited).problems).toHaveLength(1);
  expect(parse(text).problems).toHaveLength(1);
});

/** Each file with the next below it. */
function pairs(files: readonly { text: string }[]): string[] {
  return files.slice(1).map(({ text }, index) => `${files[index].text}\n${text}`);
}
