/** No feature fails on any text: beginnings of files, and files with pieces cut out, doubled or swapped. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Position } from 'vscode-languageserver-types';
import { provideCodeActions } from '#features/code-actions';
import { provideCompletion } from '#features/completion';
import { provideDefinition } from '#features/definition';
import { provideDiagnostics } from '#features/diagnostics';
import { provideDocumentLinks } from '#features/document-links';
import { provideDocumentSymbols } from '#features/document-symbols';
import { wordDocumentation } from '#features/documentation/words';
import { provideFormatting } from '#features/formatting';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { offsetAt, positionAt } from '#features/positions';
import { defaultSettings } from '#features/settings';
import { keywords } from '#grammar/words';
import type { Snapshot } from '#workspace/snapshot';
import { snapshotOf, wholeText } from './fixture';
import { loop, vBend } from './samples';

const folder = resolve(import.meta.dirname, '../../examples');
const examples = readdirSync(folder)
  .filter((name) => name.endsWith('.spring'))
  .map((name) => readFileSync(join(folder, name), 'utf8'));

describe('every feature', { timeout: 120_000 }, () => {
  it('takes every beginning of a file', async () => {
    for (const text of [loop, vBend]) {
      for (let end = 0; end <= text.length; end += 7) {
        const snapshot = await snapshotOf(text.slice(0, end));
        runAll(snapshot, positionAt(snapshot, end));
      }
    }
  });

  it('takes files with pieces cut out, doubled or swapped', async () => {
    expect(examples.length).toBeGreaterThan(0);
    const place = fc.double({ min: 0, max: 1, noNaN: true });
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...examples, loop, vBend),
        fc.tuple(place, place, place),
        fc.constantFrom('cut', 'double', 'swap', 'junk'),
        fc.string({ unit: 'binary', maxLength: 12 }),
        async (text, places, how, junk) => {
          const [a, b, cursor] = places.map((share) => Math.floor(share * text.length));
          const [start, end] = [Math.min(a, b), Math.min(Math.max(a, b), Math.min(a, b) + 80)];
          const piece = text.slice(start, end);
          const changed = {
            cut: text.slice(0, start) + text.slice(end),
            double: text.slice(0, end) + piece + text.slice(end),
            swap: text.slice(0, start) + [...piece].reverse().join('') + text.slice(end),
            junk: text.slice(0, start) + junk + text.slice(start),
          }[how];
          const snapshot = await snapshotOf(changed);
          runAll(snapshot, positionAt(snapshot, Math.min(cursor, changed.length)));
        },
      ),
      { numRuns: 150, seed: 20_240_501 },
    );
  });
});

it('every keyword is explained', () => {
  const clauses = ['slot', 'length', 'width', 'at', 'moved', 'tip', 'rotation', 'torque', 'tied'];
  const missing = keywords.filter((word) => wordDocumentation[word] === undefined && !clauses.includes(word));
  expect(missing).toEqual([]);
});

function runAll(snapshot: Snapshot, position: Position): void {
  const range = { start: position, end: position };
  expect(snapshot.problems.map(({ code }) => code)).not.toContain('internal-error');
  for (const { span } of snapshot.problems) expect(span.end).toBeLessThanOrEqual(snapshot.text.length);
  for (const diagnostic of provideDiagnostics(snapshot)) {
    expect(offsetAt(snapshot, diagnostic.range.start)).toBeLessThanOrEqual(offsetAt(snapshot, diagnostic.range.end));
  }
  for (const { label } of provideInlayHints(snapshot, wholeText, defaultSettings)) {
    expect(label).not.toMatch(/NaN|undefined|Infinity|–/);
  }
  provideHover(snapshot, position, defaultSettings);
  provideCompletion(snapshot, position);
  provideDefinition(snapshot, position);
  provideDocumentSymbols(snapshot);
  provideDocumentLinks(snapshot);
  provideCodeActions(snapshot, range);
  provideFormatting(snapshot);
}
