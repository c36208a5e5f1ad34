/** Drill: a feature that throws answers with nothing, is logged, and the others live on. */
import { PassThrough } from 'node:stream';
import { expect, it } from 'vitest';
import {
  createConnection,
  ProposedFeatures,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { allFeatures } from '#lsp/features';
import { startServer } from '#lsp/server';
import { vBend } from '../features/samples';
import { connectClient } from './test-client';

it('keeps the server alive when features throw', async () => {
  const toServer = new PassThrough();
  const toClient = new PassThrough();
  const connection = createConnection(
    ProposedFeatures.all,
    new StreamMessageReader(toServer),
    new StreamMessageWriter(toClient),
  );
  // The server would end this process with itself.
  connection.onExit(() => undefined);
  startServer(
    connection,
    { now: () => performance.now(), defer: (task) => void setImmediate(task) },
    {
      ...allFeatures,
      provideHover: () => {
        throw new Error('a bug in hover');
      },
      provideDiagnostics: () => {
        throw new Error('a bug in diagnostics');
      },
    },
  );
  const client = await connectClient(
    new StreamMessageReader(toClient),
    new StreamMessageWriter(toServer),
    async () => undefined,
  );
  const uri = 'file:///files/appliance.spring';
  client.open(uri, vBend);
  const position = { line: 12, character: 15 };
  expect(await client.ask('textDocument/hover', { textDocument: { uri }, position })).toBeNull();
  expect((await client.hints(uri)).length).toBeGreaterThan(0);
  expect((await client.effort()).requests).toMatchObject({
    hover: { count: 1, failures: 1 },
    results: { count: 1, failures: 1 },
    'inlay hints': { count: 1, failures: 0 },
  });
  expect(client.errors.join('\n')).toContain('hover failed: Error: a bug in hover');
  expect(client.errors.join('\n')).toContain('results failed: Error: a bug in diagnostics');
  client.connection.dispose();
  connection.dispose();
});
