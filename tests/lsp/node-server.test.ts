/** The bundled server as a process of its own, over stdio, as the editor's Node runtime starts it. */

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  CodeAction,
  CodeLens,
  CompletionItem,
  DocumentLink,
  DocumentSymbol,
  FoldingRange,
  Hover,
  InlayHint,
  Location,
  SelectionRange,
  SemanticTokens,
  SignatureHelp,
  TextEdit,
  WorkspaceEdit,
  WorkspaceSymbol,
} from 'vscode-languageserver/node';
import { library } from '#library';
import {
  appliancesRequest,
  type ExportResult,
  exportRequest,
  type ResultsChangedParams,
  resultsChangedNotification,
} from '#lsp/protocol';
import { loop, vBend } from '../features/samples';
import { bundle } from './bundle';
import { startNodeServer, type TestClient } from './test-client';

let client: TestClient & { readonly process: { exitCode: number | null } };

beforeAll(async () => {
  client = await startNodeServer((await bundle('server.node')).file);
});

afterAll(async () => {
  await client.stop();
  expect(client.errors).toEqual([]);
  expect(client.process.exitCode).toBe(0);
});

describe('the server over stdio', () => {
  it('pushes diagnostics and answers every request on a document', async () => {
    const uri = open(vBend.replace('straight far', 'straight fra'));
    const diagnostics = await client.diagnostics(uri);
    expect(diagnostics.map(({ code }) => code)).toContain('unknown-name');

    client.change(uri, { text: vBend });
    expect((await client.diagnostics(uri)).map(({ code }) => code)).toEqual(
      expect.not.arrayContaining(['unknown-name']),
    );
    const textDocument = { uri };
    expect(labels(await client.hints(uri))).toContain('26 mm of wire');
    const hover = await client.ask<Hover>('textDocument/hover', {
      textDocument,
      position: { line: 13, character: 15 },
    });
    expect(JSON.stringify(hover)).toContain('param arm');
    const symbols = await client.ask<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument });
    expect(symbols.map(({ name }) => name)).toEqual(['v_bend']);
    const items = await client.ask<CompletionItem[]>('textDocument/completion', {
      textDocument,
      position: { line: 13, character: 13 },
    });
    expect(items.map(({ label }) => label)).toContain('arm');
    const target = await client.ask<Location>('textDocument/definition', {
      textDocument,
      position: { line: 13, character: 14 },
    });
    expect(target.range.start.line).toBe(6);
    const links = await client.ask<DocumentLink[]>('textDocument/documentLink', { textDocument });
    expect(links.map((link) => link.target)).toEqual(['springwright-library:/alloys.spring']);
  });

  it('offers fixes and formats', async () => {
    const uri = open(vBend.replace('straight far', '      straight fra'));
    const textDocument = { uri };
    const options = { tabSize: 2, insertSpaces: true };
    const edits = await client.ask<TextEdit[]>('textDocument/formatting', { textDocument, options });
    expect(edits).toHaveLength(1);
    const range = { start: { line: 15, character: 0 }, end: { line: 15, character: 40 } };
    const actions = await client.ask<CodeAction[]>('textDocument/codeAction', {
      textDocument,
      range,
      context: { diagnostics: [] },
    });
    expect(actions.map(({ title }) => title).join()).toContain('far');
  });

  it('follows incremental edits', async () => {
    const uri = open(vBend);
    const line = vBend.split('\n').indexOf('    straight 4 mm');
    client.change(
      uri,
      { range: { start: { line, character: 13 }, end: { line, character: 14 } }, text: '5' },
      { range: { start: { line, character: 14 }, end: { line, character: 14 } }, text: '.5' },
    );
    // By hand: 26 mm + 1.5 mm.
    expect(labels(await client.hints(uri))).toContain('27.5 mm of wire');
    expect(await client.diagnostics(uri)).toBeDefined();
  });

  it('answers on a half-typed, an empty and a strange file', async () => {
    for (const text of [
      '',
      '\uFEFF',
      vBend.slice(0, vBend.length / 2),
      'appliance {',
      '🦷'.repeat(50),
      vBend.replaceAll('\n', '\r\n'),
    ]) {
      const uri = open(text);
      await everyRequest(uri);
      expect(await client.diagnostics(uri)).toBeDefined();
      client.close(uri);
    }
  });

  it('lives through a file of 1 MB', async () => {
    const uri = open(`${'// the same line again and again, all of it a comment\n'.repeat(20_000)}${vBend}`);
    expect(labels(await client.hints(uri))).toContain('26 mm of wire');
    const many = open(Array.from({ length: 30_000 }, (_, index) => `let value_${index} = ${index} mm * 2\n`).join(''));
    expect(await client.diagnostics(many)).toEqual([]);
    const junk = open('bend } ( " 7 mm { .. '.repeat(50_000));
    expect((await client.diagnostics(junk)).length).toBeGreaterThan(0);
    for (const each of [uri, many, junk]) client.close(each);
  });

  it('answers with nothing on unknown and closed documents', async () => {
    await everyRequest('file:///files/never-opened.spring');
    const uri = open(vBend);
    client.close(uri);
    expect(await client.hints(uri)).toEqual([]);
    expect(await client.diagnostics(uri)).toEqual([]);
  });

  it('reads modules through the client and notices that they change', async () => {
    const parts = 'file:///files/lengths.spring';
    client.files.set(parts, 'let reach = 5 mm\n');
    const uri = open(`use "./lengths.spring"\n${vBend.replace('straight 4 mm', 'straight reach')}`);
    expect(labels(await client.hints(uri))).toContain('27 mm of wire');
    const before = client.refreshes();

    client.open(parts, 'let reach = 6 mm\n');
    expect(labels(await client.hints(uri))).toContain('28 mm of wire');
    expect(client.refreshes()).toBeGreaterThan(before);

    client.close(parts);
    client.files.set(parts, 'let reach = 7 mm\n');
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: parts, type: 2 }] });
    expect(labels(await client.hints(uri))).toContain('29 mm of wire');
  });

  it('finds and renames names across the files of the workspace', async () => {
    const parts = 'file:///files/reach.spring';
    const other = 'file:///files/other.spring';
    client.files.set(parts, 'let reach = 5 mm\n');
    client.files.set(other, 'use "./reach.spring"\nlet twice = 2 * reach\n');
    const changes = [parts, other].map((uri) => ({ uri, type: 1 }));
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes });
    const uri = open(`use "./reach.spring"\n${vBend.replace('straight 4 mm', 'straight reach')}`);
    const textDocument = { uri };
    const position = { line: 12, character: 15 };
    const context = { includeDeclaration: true };
    const found = await client.ask<Location[]>('textDocument/references', { textDocument, position, context });
    expect(found.map((one) => one.uri).sort()).toEqual([uri, other, parts].sort());
    const highlights = await client.ask<unknown[]>('textDocument/documentHighlight', { textDocument, position });
    expect(highlights).toHaveLength(1);
    expect(await client.ask('textDocument/prepareRename', { textDocument, position })).toMatchObject({
      placeholder: 'reach',
    });
    const edit = await client.ask<WorkspaceEdit>('textDocument/rename', {
      textDocument,
      position,
      newName: 'far_away',
    });
    expect(Object.keys(edit.changes ?? {}).sort()).toEqual([uri, other, parts].sort());
    await expect(
      client.ask('textDocument/rename', { textDocument, position, newName: 'straight' }),
    ).rejects.toMatchObject({ message: expect.stringContaining('word of the language') });
    const symbols = await client.ask<WorkspaceSymbol[]>('workspace/symbol', { query: 'twice' });
    expect(symbols.map(({ location }) => location.uri)).toEqual([other]);
    const half = open('use "');
    const items = await client.ask<CompletionItem[]>('textDocument/completion', {
      textDocument: { uri: half },
      position: { line: 0, character: 5 },
    });
    expect(items.map(({ label }) => label)).toEqual(expect.arrayContaining(['alloys', './reach.spring']));
    client.close(half);
    const renames = { files: [{ oldUri: parts, newUri: 'file:///files/sizes/reach.spring' }] };
    const moved = await client.ask<WorkspaceEdit>('workspace/willRenameFiles', renames);
    expect(moved.changes?.[other]).toMatchObject([{ newText: '"./sizes/reach.spring"' }]);
    client.files.delete(other);
  });

  it('answers about structure, colours, arguments and the force system', async () => {
    const uri = open(loop);
    const textDocument = { uri };
    const lines = loop.split('\n');
    const lenses = await client.ask<CodeLens[]>('textDocument/codeLens', { textDocument });
    expect(lenses.map(({ command }) => command?.title).join()).toMatch(/^requirements: 2 of 2 met,at 1 mm: molar /);
    const folds = await client.ask<FoldingRange[]>('textDocument/foldingRange', { textDocument });
    expect(folds.map(({ startLine }) => startLine)).toContain(lines.indexOf('appliance closing {'));
    const tokens = await client.ask<SemanticTokens>('textDocument/semanticTokens/full', { textDocument });
    expect(tokens.data.length).toBeGreaterThan(5 * 100);
    const line = lines.findIndex((one) => one.includes('vertical(height = 8'));
    const position = { line, character: lines[line].indexOf('8 mm') };
    const help = await client.ask<SignatureHelp>('textDocument/signatureHelp', { textDocument, position });
    expect(help.signatures[0].label).toContain('height = 7 mm in 4 mm .. 10 mm');
    const [selection] = await client.ask<SelectionRange[]>('textDocument/selectionRange', {
      textDocument,
      positions: [position],
    });
    expect(selection.parent?.parent).toBeDefined();
  });

  it('formats lines, and the block that a brace closes', async () => {
    const text = 'let  a = 1 mm\npart p(b=1 mm){\nstraight b\n}\n';
    const textDocument = { uri: open(text) };
    const options = { tabSize: 2, insertSpaces: true };
    const start = { line: 0, character: 0 };
    const range = { start, end: { line: 0, character: 5 } };
    const edits = await client.ask<TextEdit[]>('textDocument/rangeFormatting', { textDocument, range, options });
    expect(edits.map(({ newText }) => newText)).toEqual(['let a = 1 mm']);
    const position = { line: 3, character: 1 };
    const typed = await client.ask<TextEdit[]>('textDocument/onTypeFormatting', {
      ...{ textDocument, position, ch: '}', options },
    });
    expect(typed.map(({ newText }) => newText)).toEqual(['part p(b = 1 mm) {', '  straight b']);
  });

  it('opens bundled modules as documents like any other', async () => {
    const uri = open(loop);
    const line = loop.split('\n').findIndex((one) => one.includes('of beta_titanium'));
    const position = { line, character: loop.split('\n')[line].indexOf('beta_titanium') + 2 };
    const target = await client.ask<Location>('textDocument/definition', { textDocument: { uri }, position });
    expect(target.uri).toBe('springwright-library:/alloys.spring');
    client.open(target.uri, library.get('alloys')!);
    expect(await client.diagnostics(target.uri)).toEqual([]);
    const textDocument = { uri: target.uri };
    const symbols = await client.ask<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument });
    expect(symbols.find(({ name }) => name === 'beta_titanium')?.selectionRange).toEqual(target.range);
    const asked = client.ask('textDocument/prepareRename', { textDocument, position: target.range.start });
    await expect(asked).rejects.toMatchObject({ message: expect.stringContaining('cannot be changed') });
    client.close(target.uri);
  });

  it('reads its settings live', async () => {
    const uri = open(loop);
    expect(labels(await client.hints(uri)).join()).toContain('gf distal');
    client.changeSettings({ units: { force: 'N' }, hints: { lengths: false } });
    const hints = labels(await client.hints(uri));
    expect(hints.join()).toContain('N distal');
    expect(hints.join()).not.toContain('of wire');
    expect(hints.join()).toMatch(/✓ [\d.]+ N,/);
    client.changeSettings({});
  });

  it('says when there are new results', async () => {
    let uri = '';
    const changed = new Promise<ResultsChangedParams>((resolve) => {
      client.connection.onNotification(resultsChangedNotification, (params: ResultsChangedParams) => {
        if (params.uri === uri) resolve(params);
      });
    });
    uri = open(loop);
    expect(await changed).toEqual({ uri, version: 1 });
  });

  it('names the appliances of a file', async () => {
    expect(await client.ask(appliancesRequest, { uri: open(loop) })).toEqual(['closing']);
    expect(await client.ask(appliancesRequest, { uri: open('// nothing yet\n') })).toEqual([]);
    expect(await client.ask(appliancesRequest, { uri: 'file:///files/gone.spring' })).toEqual([]);
  });

  it('computes bands where they are asked for, and nowhere else', async () => {
    const uri = open(loop);
    const textDocument = { uri };
    const line = loop.split('\n').findIndex((one) => one.includes('bracket canine'));
    const hover = await client.ask<Hover>('textDocument/hover', { textDocument, position: { line, character: 12 } });
    expect(JSON.stringify(hover)).toMatch(/distal \| [\d.]+ gf \([\d.]+ \.\. [\d.]+\)/);
    expect(labels(await client.hints(uri)).join()).not.toContain('of the spread');
    client.changeSettings({ hints: { bands: true } });
    expect(labels(await client.hints(uri)).join()).toMatch(/most of the spread: \d+ %/);
    client.changeSettings({});
  });

  it('gives bands of a hover up that is cancelled', async () => {
    const uri = open(loop.replace('gable = 15 deg', 'gable = 16.5 deg'));
    await client.diagnostics(uri);
    const { CancellationTokenSource } = await import('vscode-languageserver/node');
    const source = new CancellationTokenSource();
    const line = loop.split('\n').findIndex((one) => one.includes('bracket canine'));
    const params = { textDocument: { uri }, position: { line, character: 12 } };
    const asked = client.connection.sendRequest('textDocument/hover', params, source.token);
    // Begun by the time this is answered; then cancelled between two slices.
    await client.hints(uri);
    source.cancel();
    await expect(asked).rejects.toMatchObject({ code: -32800 });
  });

  it('exports what a trial activation would change too, and gives an export up that is cancelled', async () => {
    const uri = open(loop.replace('gable = 15 deg', 'gable = 17.5 deg'));
    await client.diagnostics(uri);
    const params = { uri, format: 'sheet', paper: 'A4', path: 'closing.spring' };
    const { CancellationTokenSource } = await import('vscode-languageserver/node');
    const source = new CancellationTokenSource();
    const given = client.connection.sendRequest(exportRequest, params, source.token);
    source.cancel();
    await expect(given).rejects.toMatchObject({ code: -32800 });
    const { file } = await client.ask<ExportResult>(exportRequest, params);
    expect(file?.name).toBe('closing.pdf');
  });

  it('drops cancelled requests and goes on', async () => {
    const uri = open(vBend);
    const { CancellationTokenSource } = await import('vscode-languageserver/node');
    const source = new CancellationTokenSource();
    const params = { textDocument: { uri }, position: { line: 13, character: 15 } };
    const asked = client.connection.sendRequest('textDocument/hover', params, source.token);
    source.cancel();
    await expect(asked).rejects.toMatchObject({ code: -32800 });
    expect(await client.ask('textDocument/hover', params)).not.toBeNull();
  });

  it('parses once per keystroke and solves once per number', async () => {
    const uri = open(loop);
    await client.hints(uri);
    await client.diagnostics(uri);
    const before = await client.effort();
    for (let key = 1; key <= 5; key++) {
      client.change(uri, { text: loop.replace('gable = 15 deg', `gable = 15.${key} deg`) });
      await client.hints(uri);
      await client.diagnostics(uri);
    }
    const after = await client.effort();
    expect(after.parses - before.parses).toBe(5);
    expect(after.solves - before.solves).toBe(5);
  });
});

let opened = 0;

function open(text: string): string {
  opened += 1;
  const uri = `file:///files/document-${opened}.spring`;
  client.open(uri, text);
  return uri;
}

function labels(hints: readonly InlayHint[]): string[] {
  return hints.map(({ label }) => String(label));
}

/** Every request the server knows; it is enough that each is answered. */
async function everyRequest(uri: string): Promise<void> {
  const textDocument = { uri };
  const position = { line: 0, character: 3 };
  const range = { start: position, end: position };
  const options = { tabSize: 2, insertSpaces: true };
  await Promise.all([
    client.hints(uri),
    client.ask('textDocument/hover', { textDocument, position }),
    client.ask('textDocument/completion', { textDocument, position }),
    client.ask('textDocument/definition', { textDocument, position }),
    client.ask('textDocument/documentSymbol', { textDocument }),
    client.ask('textDocument/documentLink', { textDocument }),
    client.ask('textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } }),
    client.ask('textDocument/formatting', { textDocument, options }),
    client.ask('textDocument/rangeFormatting', { textDocument, range, options }),
    client.ask('textDocument/onTypeFormatting', { textDocument, position, ch: '}', options }),
    client.ask('textDocument/references', { textDocument, position, context: { includeDeclaration: true } }),
    client.ask('textDocument/documentHighlight', { textDocument, position }),
    client.ask('textDocument/prepareRename', { textDocument, position }).catch((error) => error),
    client.ask('textDocument/rename', { textDocument, position, newName: 'other' }).catch((error) => error),
    client.ask('textDocument/signatureHelp', { textDocument, position }),
    client.ask('textDocument/semanticTokens/full', { textDocument }),
    client.ask('textDocument/semanticTokens/range', { textDocument, range }),
    client.ask('textDocument/foldingRange', { textDocument }),
    client.ask('textDocument/selectionRange', { textDocument, positions: [position] }),
    client.ask('textDocument/codeLens', { textDocument }),
    client.ask('workspace/symbol', { query: 'a' }),
    client.ask(appliancesRequest, { uri }),
  ]);
}
