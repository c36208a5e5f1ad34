/** The language server as a web worker. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { startServer } from '#lsp/server';

const scope = self as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];

startServer(createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope)), {
  now: () => performance.now(),
  defer: (task) => void setTimeout(task, 0),
});
