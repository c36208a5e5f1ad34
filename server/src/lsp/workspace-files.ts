/** Every `.spring` file that there is: those of the editor's folders, open documents and the bundled library. */
import type { Connection } from 'vscode-languageserver';
import type { SourceView } from '#workspace/snapshot';
import { canonicalUri } from '#workspace/uri';
import type { Workspace } from '#workspace/workspace';
import { type FindFilesResult, findFilesRequest } from './protocol';

export interface WorkspaceFiles {
  uris(): Promise<string[]>;
  /** By their texts and names. */
  sources(): Promise<SourceView[]>;
  /** Files may have appeared or gone. */
  forget(): void;
}

export function createWorkspaceFiles(connection: Connection, workspace: Workspace): WorkspaceFiles {
  let listed: Promise<readonly string[]> | undefined;
  const uris = async (): Promise<string[]> => {
    listed ??= find(connection);
    const all = [...workspace.documents(), ...(await listed), ...workspace.bundled];
    return [...new Map(all.map((uri) => [canonicalUri(uri), uri])).values()];
  };
  return {
    uris,
    async sources() {
      const sources = await Promise.all((await uris()).map((uri) => workspace.source(uri)));
      return sources.filter((source) => source !== undefined);
    },
    forget() {
      listed = undefined;
    },
  };
}

/** An editor that cannot look for files has its open documents. */
async function find(connection: Connection): Promise<readonly string[]> {
  try {
    return (await connection.sendRequest<FindFilesResult>(findFilesRequest)).uris;
  } catch {
    return [];
  }
}
