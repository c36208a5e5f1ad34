/** Names of the workspace's files for the server, which looks for nothing by itself. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type FindFilesResult, findFilesRequest } from '#lsp/protocol';

/** Nobody keeps designs among this many files; a folder opened by mistake must not be walked for minutes. */
const mostEntries = 20_000;

export function answerFindFiles(client: BaseLanguageClient): vscode.Disposable {
  return client.onRequest<FindFilesResult, void>(findFilesRequest, async () => ({
    uris: (await findFiles()).map(String),
  }));
}

/** Walks the folders, level by level: the editor's own search is not there for every kind of file system. */
export async function findFiles(): Promise<vscode.Uri[]> {
  const found: vscode.Uri[] = [];
  let folders = (vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri);
  let entries = 0;
  while (folders.length > 0 && entries < mostEntries) {
    const listed = await Promise.all(folders.map(list));
    folders = [];
    for (const { uri, type } of listed.flat()) {
      entries += 1;
      if ((type & vscode.FileType.Directory) !== 0) folders.push(uri);
      else if (uri.path.endsWith('.spring')) found.push(uri);
    }
  }
  return found;
}

/** Without hidden files, installed packages and links, which may lead in circles. */
async function list(folder: vscode.Uri): Promise<{ uri: vscode.Uri; type: vscode.FileType }[]> {
  try {
    const entries = await vscode.workspace.fs.readDirectory(folder);
    return entries
      .filter(([name, type]) => !name.startsWith('.') && name !== 'node_modules' && !isLink(type))
      .map(([name, type]) => ({ uri: vscode.Uri.joinPath(folder, name), type }));
  } catch {
    return []; // A folder that cannot be read has nothing to look through.
  }
}

const isLink = (type: vscode.FileType): boolean => (type & vscode.FileType.SymbolicLink) !== 0;
