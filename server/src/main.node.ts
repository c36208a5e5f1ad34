/** The language server as a Node process: over stdio, or over the channel the editor opened it with. */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from '#lsp/server';

startServer(createConnection(ProposedFeatures.all), {
  now: () => performance.now(),
  defer: (task) => void setImmediate(task),
});
