/** Every `.spring` file that there is: those of the editor's folders, open documents and the bundled library. */
import type { Connection } from 'vscode-languageserver';
import { library } from '#library';
import type { SourceView } from '#workspace/snapshot';
import { canonicalUri, resolveUse } from '#workspace/uri';
import type { Workspace } from '#workspace/workspace';
import { type FindFilesResult, findFilesRequest } from './protocol';

export function createWorkspaceFiles(connection: Connection, workspace: Workspace): () => Promise<SourceView[]> {
  return async () => {
    const bundled = [...library.keys()].map((name) => resolveUse('', name));
    const all = [...workspace.documents(), ...(await found(connection)), ...bundled];
    const different = new Map(all.map((uri) => [canonicalUri(uri), uri]));
    const sources = await Promise.all([...different.values()].map((uri) => workspace.source(uri)));
    return sources.filter((source) => source !== undefined);
  };
}

/** An editor that cannot look for files has its open documents. */
async function found(connection: Connection): Promise<readonly string[]> {
  try {
    return (await connection.sendRequest<FindFilesResult>(findFilesRequest)).uris;
  } catch {
    return [];
  }
}
