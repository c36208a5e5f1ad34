/** Files or folders get other names: the `use` lines that lead to them, or out of them, follow. */
import type { TextEdit, WorkspaceEdit } from 'vscode-languageserver-types';
import type { SourceView } from '#workspace/snapshot';
import { bundledName, canonicalUri, relativeUse, resolveUse } from '#workspace/uri';
import { rangeOf } from './positions';

export interface FileRename {
  readonly oldUri: string;
  readonly newUri: string;
}

/** `sources` are the files of the workspace, under their old names; the edits are to be made before the renaming. */
export function provideFileRename(
  sources: readonly SourceView[],
  renames: readonly FileRename[],
): WorkspaceEdit | null {
  const changes: Record<string, TextEdit[]> = {};
  for (const source of sources) {
    const edits = usesOf(source, renames);
    if (edits.length > 0) changes[source.uri] = edits;
  }
  return Object.keys(changes).length === 0 ? null : { changes };
}

function usesOf(source: SourceView, renames: readonly FileRename[]): TextEdit[] {
  const from = renamed(canonicalUri(source.uri), renames);
  return source.parse.tree.items.flatMap((item): TextEdit[] => {
    if (item.kind !== 'use' || item.path === undefined) return [];
    const { value, span } = item.path;
    const target = canonicalUri(resolveUse(source.uri, value));
    if (bundledName(target) !== undefined) return [];
    const to = renamed(target, renames);
    if (canonicalUri(resolveUse(from, value)) === to) return [];
    const path = relativeUse(from, to);
    return path === undefined ? [] : [{ range: rangeOf(source, span), newText: `"${path}"` }];
  });
}

/** Where a file is found afterwards, by canonical uri. */
function renamed(uri: string, renames: readonly FileRename[]): string {
  for (const { oldUri, newUri } of renames) {
    const [before, after] = [canonicalUri(oldUri), canonicalUri(newUri)];
    if (uri === before) return after;
    if (uri.startsWith(`${before}/`)) return after + uri.slice(before.length);
  }
  return uri;
}
