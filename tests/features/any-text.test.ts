/** No feature fails on any text: beginnings of files, and files with pieces cut out, doubled or swapped. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Position } from 'vscode-languageserver-types';
import { provideCodeActions } from '#features/code-actions';
import { provideCodeLenses } from '#features/code-lens';
import { provideCompletion } from '#features/completion';
import { provideDefinition } from '#features/definition';
import { provideDiagnostics } from '#features/diagnostics';
import { provideDocumentHighlights } from '#features/document-highlight';
import { provideDocumentLinks } from '#features/document-links';
import { provideDocumentSymbols } from '#features/document-symbols';
import { clauseDocumentation, wordDocumentation } from '#features/documentation/words';
import { provideFileRename } from '#features/file-rename';
import { provideFoldingRanges } from '#features/folding-ranges';
import { provideFormatting } from '#features/formatting';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { provideOnTypeFormatting, provideRangeFormatting } from '#features/line-formatting';
import { offsetAt, positionAt } from '#features/positions';
import { provideReferences } from '#features/references';
import { prepareRename, provideRename } from '#features/rename';
import { provideSelectionRanges } from '#features/selection-ranges';
import { provideSemanticTokens } from '#features/semantic-tokens';
import { defaultSettings } from '#features/settings';
import { provideSignatureHelp } from '#features/signature-help';
import { provideWorkspaceSymbols } from '#features/workspace-symbols';
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

  it('takes every place of a broken file', async () => {
    const broken = [
      loop.replace('appliance closing {', 'appliance {').replace('as loop', 'as'),
      loop.replace('seat molar\n', 'seat\n').replace('{\n    canine.force', '{\n    canine.'),
      vBend.replace('path running mesial {', 'path running {').replace('in 4 mm .. 8 mm', 'in 4 mm ..'),
      vBend.replace('"alloys"', '"alloys').replaceAll('\n}', '\n'),
      'part (((= } appliance a { wire x of } use ',
    ];
    for (const text of broken) {
      const snapshot = await snapshotOf(text);
      expect(snapshot.parse.problems.length).toBeGreaterThan(0);
      for (let offset = 0; offset <= text.length; offset += 1) runAtPlace(snapshot, positionAt(snapshot, offset));
      runAll(snapshot, positionAt(snapshot, text.length));
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
  const missing = keywords.filter(
    (word) => wordDocumentation[word] === undefined && clauseDocumentation[word] === undefined,
  );
  expect(missing).toEqual([]);
});

function runAll(snapshot: Snapshot, position: Position): void {
  expect(snapshot.problems.map(({ code }) => code)).not.toContain('internal-error');
  for (const { span } of snapshot.problems) expect(span.end).toBeLessThanOrEqual(snapshot.text.length);
  for (const diagnostic of provideDiagnostics(snapshot)) {
    expect(offsetAt(snapshot, diagnostic.range.start)).toBeLessThanOrEqual(offsetAt(snapshot, diagnostic.range.end));
  }
  for (const { label } of provideInlayHints(snapshot, wholeText, defaultSettings)) {
    expect(label).not.toMatch(/NaN|undefined|Infinity|–/);
  }
  for (const lens of provideCodeLenses(snapshot, defaultSettings)) expect(lens.command?.title).not.toMatch(/NaN|–/);
  provideDocumentSymbols(snapshot);
  provideDocumentLinks(snapshot);
  provideFormatting(snapshot);
  provideFoldingRanges(snapshot);
  provideSemanticTokens(snapshot);
  provideWorkspaceSymbols([snapshot], '');
  provideFileRename([snapshot], [{ oldUri: snapshot.uri, newUri: 'file:///elsewhere/renamed.spring' }]);
  runAtPlace(snapshot, position);
}

function runAtPlace(snapshot: Snapshot, position: Position): void {
  const range = { start: position, end: position };
  provideHover(snapshot, position, defaultSettings);
  provideCompletion(snapshot, position);
  provideDefinition(snapshot, position);
  provideDocumentHighlights(snapshot, position);
  provideReferences(snapshot, position, [snapshot], { includeDeclaration: true });
  prepareRename(snapshot, position);
  provideRename(snapshot, position, 'another', [snapshot]);
  provideSignatureHelp(snapshot, position, defaultSettings);
  provideSelectionRanges(snapshot, [position]);
  provideCodeActions(snapshot, range);
  provideRangeFormatting(snapshot, { start: { line: 0, character: 0 }, end: position });
  provideOnTypeFormatting(snapshot, position, '}');
  provideOnTypeFormatting(snapshot, position, '\n');
}
