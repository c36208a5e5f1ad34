/** The extension in a web worker's extension host: the language server is a worker of its own. */
import * as vscode from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { activateWith, clientId, clientName, clientOptions } from './activate';

let client: LanguageClient | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const script = vscode.Uri.joinPath(context.extensionUri, 'dist', 'server.worker.js');
  client = new LanguageClient(clientId, clientName, new Worker(script.toString(true)), clientOptions());
  await activateWith(context, client);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
