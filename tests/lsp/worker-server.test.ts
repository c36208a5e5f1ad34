/** The worker bundle: one file that imports nothing, run in a thread that looks like a web worker. */
import { readFileSync } from 'node:fs';
import { type MessagePort, Worker } from 'node:worker_threads';
import { beforeAll, expect, it } from 'vitest';
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  type CodeLens,
  type DataCallback,
  type Disposable,
  type Message,
  type MessageReader,
  type MessageWriter,
  type SemanticTokens,
  type WorkspaceEdit,
} from 'vscode-languageserver/node';
import { vBend } from '../features/samples';
import { type Bundle, bundle } from './bundle';
import { connectClient } from './test-client';

let built: Bundle;

beforeAll(async () => {
  built = await bundle('server.worker');
});

it('is one file without an import', () => {
  const outputs = Object.entries(built.metafile.outputs).filter(([name]) => name.endsWith('.js'));
  expect(outputs).toHaveLength(1);
  expect(outputs[0][1].imports).toEqual([]);
  const text = readFileSync(built.file, 'utf8');
  // What the bundler leaves where it could not bundle a module.
  expect(text).not.toContain('Dynamic require of');
  expect(text).not.toMatch(/^\s*import\b/m);
  expect(Object.keys(built.metafile.inputs).filter((name) => /\bnode:|\bmain\.node\b/.test(name))).toEqual([]);
});

it('serves a document in a worker', async () => {
  // A web worker's global scope, as far as the server uses it; nothing of Node is within reach of the bundle.
  const source = `
    const { parentPort, workerData } = require('node:worker_threads');
    const { createContext, Script } = require('node:vm');
    const scope = {
      postMessage: (message) => parentPort.postMessage(message),
      addEventListener: () => undefined,
      ...{ setTimeout, clearTimeout, setInterval, clearInterval, performance, console, crypto, TextEncoder, TextDecoder },
    };
    scope.self = scope;
    parentPort.on('message', (data) => scope.onmessage?.({ data }));
    new Script(workerData).runInContext(createContext(scope));
  `;
  const worker = new Worker(source, { eval: true, workerData: readFileSync(built.file, 'utf8') });
  const broken = new Promise<never>((_, reject) => worker.once('error', reject));
  const { reader, writer } = portMessages(worker);
  const client = await Promise.race([connectClient(reader, writer, async () => undefined), broken]);
  const uri = 'vscode-vfs://host/designs/appliance.spring';
  client.open(uri, vBend);
  expect((await client.hints(uri)).map(({ label }) => label)).toContain('26 mm of wire');
  expect(await client.diagnostics(uri)).toBeDefined();
  const textDocument = { uri };
  const line = vBend.split('\n').indexOf('    straight arm');
  const position = { line, character: 15 };
  const edit = await client.ask<WorkspaceEdit>('textDocument/rename', { textDocument, position, newName: 'reach' });
  expect(edit.changes?.[uri]).toHaveLength(3);
  const lenses = await client.ask<CodeLens[]>('textDocument/codeLens', { textDocument });
  expect(lenses.map(({ command }) => command?.title).join()).toContain('requirements: 1 of 2 met');
  for (const [method, params] of Object.entries({
    'textDocument/semanticTokens/full': {},
    'textDocument/foldingRange': {},
    'textDocument/selectionRange': { positions: [position] },
    'textDocument/references': { position, context: { includeDeclaration: true } },
    'textDocument/documentHighlight': { position },
    'workspace/symbol': { query: 'v_bend' },
  })) {
    const answer = await client.ask<unknown[] | SemanticTokens>(method, { textDocument, ...params });
    expect('data' in answer ? answer.data : answer, method).not.toHaveLength(0);
  }
  expect(client.errors).toEqual([]);
  client.connection.dispose();
  await worker.terminate();
});

function portMessages(port: Worker | MessagePort): { reader: MessageReader; writer: MessageWriter } {
  class PortReader extends AbstractMessageReader {
    listen(callback: DataCallback): Disposable {
      port.on('message', callback);
      return { dispose: () => port.off('message', callback) };
    }
  }
  class PortWriter extends AbstractMessageWriter {
    async write(message: Message): Promise<void> {
      port.postMessage(message);
    }
    end(): void {}
  }
  return { reader: new PortReader(), writer: new PortWriter() };
}
