/** Tells whoever wants to know that a document's results are new: the client itself takes one handler for a notification. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type ResultsChangedParams, resultsChangedNotification } from '#lsp/protocol';

export function listenForResults(client: BaseLanguageClient): vscode.Disposable & {
  readonly onDidChangeResults: vscode.Event<ResultsChangedParams>;
} {
  const emitter = new vscode.EventEmitter<ResultsChangedParams>();
  const handler = client.onNotification(resultsChangedNotification, (params: ResultsChangedParams) =>
    emitter.fire(params),
  );
  return {
    onDidChangeResults: emitter.event,
    dispose() {
      handler.dispose();
      emitter.dispose();
    },
  };
}
