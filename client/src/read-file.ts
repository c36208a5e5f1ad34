/** Files for the server: it reads nothing by itself, so that local, remote and virtual workspaces behave alike. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type ReadFileParams, type ReadFileResult, readFileRequest } from '#lsp/protocol';
import { readRevision } from './git';

/** No design is this large; what is, in bytes, was not meant to be read as one. */
const largestFile = 8 * 1024 * 1024;

export function answerReadFile(client: BaseLanguageClient): vscode.Disposable {
  return client.onRequest<ReadFileResult, void>(readFileRequest, ({ uri, revision }: ReadFileParams) =>
    revision === undefined ? readFile(vscode.Uri.parse(uri)) : readAt(vscode.Uri.parse(uri), revision),
  );
}

/** A file of any scheme that the editor knows. */
export async function readFile(uri: vscode.Uri): Promise<ReadFileResult> {
  try {
    const { size } = await vscode.workspace.fs.stat(uri);
    if (size > largestFile) return { error: vscode.l10n.t('The file is larger than 8 MB.') };
    return { text: new TextDecoder().decode(await vscode.workspace.fs.readFile(uri)) };
  } catch (error) {
    return { error: reasonOf(error) };
  }
}

async function readAt(uri: vscode.Uri, revision: string): Promise<ReadFileResult> {
  try {
    const text = await readRevision(uri, revision);
    return text.length > largestFile ? { error: vscode.l10n.t('The file is larger than 8 MB.') } : { text };
  } catch (error) {
    return { error: reasonOf(error) };
  }
}

function reasonOf(error: unknown): string {
  if (error instanceof vscode.FileSystemError && error.code === 'FileNotFound')
    return vscode.l10n.t('There is no such file.');
  return error instanceof Error ? error.message : String(error);
}
