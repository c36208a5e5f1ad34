/** Names of the workspace's files for the server, which looks for nothing by itself. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type FindFilesResult, findFilesRequest } from '#lsp/protocol';

/** Nobody has written this many designs; what goes on beyond is a folder opened by mistake. */
const mostFiles = 5000;

export function answerFindFiles(client: BaseLanguageClient): vscode.Disposable {
  return client.onRequest<FindFilesResult, void>(findFilesRequest, async () => {
    const uris = await vscode.workspace.findFiles('**/*.spring', undefined, mostFiles);
    return { uris: uris.map((uri) => uri.toString()) };
  });
}
