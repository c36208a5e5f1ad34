/** The extension in a Node extension host: the language server is a process of its own. */
import type * as vscode from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { activateWith, clientId, clientName, clientOptions } from './activate';
import { registerCheckTask } from './check-task';

let client: LanguageClient | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const server = { module: context.asAbsolutePath('dist/server.node.cjs'), transport: TransportKind.ipc };
  client = new LanguageClient(clientId, clientName, { run: server, debug: server }, clientOptions());
  context.subscriptions.push(registerCheckTask(context.extensionUri));
  await activateWith(context, client);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
