/** Outline, definitions, links and formatting. */

import { describe, expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { DocumentSymbol } from 'vscode-languageserver-types';
import { provideDefinition } from '#features/definition';
import { provideDocumentLinks } from '#features/document-links';
import { provideDocumentSymbols } from '#features/document-symbols';
import { provideFormatting } from '#features/formatting';
import { readFixture, snapshotOf } from './fixture';
import { loop } from './samples';

describe('outline', () => {
  it('lists parts, appliances and their members', async () => {
    const symbols = provideDocumentSymbols(await snapshotOf(loop));
    expect(outline(symbols)).toEqual([
      'vertical: part',
      '  height: parameter',
      '  width: parameter',
      'closing: appliance',
      '  wire: 0.017 in x 0.025 in of beta_titanium',
      '  gable: parameter',
      '  path: running mesial',
      '    molar: seat',
      '    loop: vertical',
      '    canine: seat',
      '  molar: tube',
      '  canine: bracket',
      '  activation: pull through molar 0 mm .. 2 mm step 0.5 mm',
      '  require: at activation 1 mm',
    ]);
  });

  it('has names inside their ranges, also where the file is half-written', async () => {
    for (let end = 0; end < loop.length; end += 17) {
      const symbols = provideDocumentSymbols(await snapshotOf(loop.slice(0, end)));
      for (const symbol of flatten(symbols)) {
        expect(symbol.name).not.toBe('');
        expect(contains(symbol.range, symbol.selectionRange), `${symbol.name} in the first ${end} characters`).toBe(
          true,
        );
      }
    }
  });
});

describe('definition', () => {
  it('leads from a use to the name', async () => {
    const { text, cursor } = readFixture(loop.replace('preactivate gable', 'preactivate ga$0ble'));
    const target = provideDefinition(await snapshotOf(text), cursor!);
    expect(text.split('\n')[target!.range.start.line]).toContain('param gable');
    expect(target?.range.end.character).toBe((target?.range.start.character ?? 0) + 'gable'.length);
  });

  it('leads into the bundled library', async () => {
    const { text, cursor } = readFixture(loop.replace('beta_titanium', 'beta$0_titanium'));
    expect(provideDefinition(await snapshotOf(text), cursor!)?.uri).toBe('springwright-library:/alloys.spring');
  });

  it('is none where there is no name', async () => {
    expect(provideDefinition(await snapshotOf(loop), { line: 1, character: 0 })).toBeNull();
  });
});

describe('links', () => {
  it('lead to modules that are there', async () => {
    const files = { 'file:///files/parts.spring': 'let reach = 3 mm\n' };
    const snapshot = await snapshotOf('use "alloys"\nuse "./parts.spring"\nuse "./nowhere.spring"\n', files);
    expect(provideDocumentLinks(snapshot).map(({ target }) => target)).toEqual([
      'springwright-library:/alloys.spring',
      'file:///files/parts.spring',
    ]);
  });
});

describe('formatting', () => {
  it('is one edit that gives the formatted text', async () => {
    const untidy = loop.replace('  wire 0.017 in', '      wire   0.017 in').replace('    seat canine', 'seat canine');
    const snapshot = await snapshotOf(untidy);
    const edits = provideFormatting(snapshot);
    expect(edits).toHaveLength(1);
    const document = TextDocument.create('', 'springwright', 1, untidy);
    expect(TextDocument.applyEdits(document, edits)).toBe(loop);
    expect(edits[0].newText.length).toBeLessThan(untidy.length);
  });

  it('changes nothing in a tidy text', async () => {
    expect(provideFormatting(await snapshotOf(loop))).toEqual([]);
    expect(provideFormatting(await snapshotOf(''))).toEqual([]);
  });
});

function outline(symbols: readonly DocumentSymbol[], indent = ''): string[] {
  return symbols.flatMap(({ name, detail, children }) => [
    `${indent}${name}: ${detail}`,
    ...outline(children ?? [], `${indent}  `),
  ]);
}

function flatten(symbols: readonly DocumentSymbol[]): DocumentSymbol[] {
  return symbols.flatMap((symbol) => [symbol, ...flatten(symbol.children ?? [])]);
}

function contains(outer: DocumentSymbol['range'], inner: DocumentSymbol['range']): boolean {
  const before = (a: DocumentSymbol['range']['start'], b: DocumentSymbol['range']['start']): boolean =>
    a.line < b.line || (a.line === b.line && a.character <= b.character);
  return before(outer.start, inner.start) && before(inner.end, outer.end);
}
