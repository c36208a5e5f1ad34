/**
 * Properties that hold for any text, on 10,000 seeded mutations of files in the language. The split, by what one costs: each
 * of the 10,000 is parsed and its pieces are counted (no character is lost); one in five is formatted; one in ten is
 * resolved. What the editor shows, where every wire is solved, is tried on the 150 mutations of `features/any-text.test.ts`.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import { format } from '#grammar/printer';
import { tokenize } from '#grammar/tokens';
import { resolveFile } from '#model/resolve';
import { loop, vBend } from '../features/samples';

const MUTATIONS = 10_000;
const FORMATTED = 5;
const RESOLVED = 10;

const texts = [vBend, loop];
const junk = fc.oneof(
  fc.constantFrom(...'{ } ( ) , = .. . " / // /// + - ^ % < == [ $ 😀 \uFEFF \u0000 \r\n \n'.split(' ')),
  fc.constantFrom(
    ...'in x let use part variant slot bend tube repeat at 3 mm deg 1e3 toward mesial not and'.split(' '),
  ),
  fc.string({ unit: 'binary', maxLength: 4 }),
);
const edit = fc.record({
  place: fc.double({ min: 0, max: 1, noNaN: true }),
  remove: fc.nat(40),
  insert: fc.array(junk, { maxLength: 3 }),
});

it(`parses, formats and resolves ${MUTATIONS} mutations`, { timeout: 240_000 }, () => {
  let run = 0;
  const done = { parsed: 0, broken: 0, formatted: 0, changed: 0, resolved: 0 };
  fc.assert(
    fc.property(fc.constantFrom(...texts), fc.array(edit, { minLength: 1, maxLength: 3 }), (text, edits) => {
      const mutated = edits.reduce((now, { place, remove, insert }) => {
        const at = Math.floor(place * now.length);
        return now.slice(0, at) + insert.join('') + now.slice(at + remove);
      }, text);
      run += 1;
      const { tree, problems } = parse(mutated);
      done.parsed += 1;
      if (problems.length > 0) done.broken += 1;
      for (const { span } of problems) expect(span.end).toBeLessThanOrEqual(mutated.length);
      const lost = lostCharacters(mutated);
      if (lost !== '') expect(lost, JSON.stringify(mutated)).toBe('');
      if (run % FORMATTED === 0) {
        const formatted = format(mutated);
        expect(pieces(formatted)).toEqual(pieces(mutated));
        expect(format(formatted)).toBe(formatted);
        done.formatted += 1;
        if (formatted !== mutated) done.changed += 1;
      }
      if (run % RESOLVED === 0) {
        const file = resolveFile('file:///mutation.spring', tree, mutated, () => ({ kind: 'missing' }));
        for (const { span, message } of file.problems) {
          expect(span.end).toBeLessThanOrEqual(mutated.length);
          expect(message).not.toMatch(/undefined|NaN|\[object/);
        }
        done.resolved += 1;
      }
    }),
    { seed: 20_261_125, numRuns: MUTATIONS },
  );
  expect(done.parsed).toBeGreaterThanOrEqual(MUTATIONS);
  expect(done.formatted).toBeGreaterThanOrEqual(MUTATIONS / FORMATTED);
  expect(done.resolved).toBeGreaterThanOrEqual(MUTATIONS / RESOLVED);
  // Mutations that break nothing, or everything, would try little.
  expect(done.broken).toBeGreaterThan(MUTATIONS / 10);
  expect(done.changed).toBeGreaterThan(0);
});

/** What is not blank and neither token nor comment nor reported. */
function lostCharacters(text: string): string {
  const { tokens, comments, problems } = tokenize(text);
  const covered = [
    ...[...tokens, ...comments].map(({ startOffset, image }) => [startOffset, startOffset + image.length]),
    ...problems.map(({ span }) => [span.start, span.end]),
  ].sort(([a], [b]) => a - b);
  let rest = '';
  let at = 0;
  for (const [start, end] of covered) {
    if (start > at) rest += text.slice(at, start);
    at = Math.max(at, end);
  }
  return (rest + text.slice(at)).replace(/[\s\uFEFF]/g, '');
}

/** Tokens and comments in order, each with its kind. */
function pieces(text: string): string[] {
  const { tokens, comments } = tokenize(text);
  return [...tokens, ...comments]
    .sort((a, b) => a.startOffset - b.startOffset)
    .map(({ image, tokenType }) => `${tokenType.name} ${image.trimEnd()}`);
}
