import { expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { provideFileRename } from '#features/file-rename';
import type { SourceView } from '#workspace/snapshot';
import { relativeUse, resolveUse } from '#workspace/uri';
import { createWorkspace } from '#workspace/workspace';

const files = {
  'file:///designs/design.spring': 'use "alloys"\nuse "./parts/hooks.spring"\nuse "parts/gone.spring"\n',
  'file:///designs/parts/hooks.spring': 'use "../sizes.spring"\nlet reach = size\n',
  'file:///designs/sizes.spring': 'let size = 3 mm\n',
};

it('a file takes the uses that lead to it along, and its own', async () => {
  expect(await renamed('file:///designs/parts/hooks.spring', 'file:///designs/old%20parts/deep/hooks.spring')).toEqual({
    'file:///designs/design.spring': files['file:///designs/design.spring'].replace(
      './parts/hooks',
      './old parts/deep/hooks',
    ),
    'file:///designs/parts/hooks.spring': 'use "../../sizes.spring"\nlet reach = size\n',
  });
});

it('a folder takes its files along', async () => {
  expect(await renamed('file:///designs/parts', 'file:///designs/pieces')).toEqual({
    'file:///designs/design.spring': 'use "alloys"\nuse "./pieces/hooks.spring"\nuse "./pieces/gone.spring"\n',
  });
});

it('nothing changes where everything moves together, or nothing leads there', async () => {
  expect(await renamed('file:///work', 'file:///elsewhere')).toEqual({});
  expect(await renamed('file:///designs/design.spring', 'file:///designs/other.spring')).toEqual({});
});

it('a written path leads where it was made for', () => {
  for (const [from, to] of [
    ['file:///a/b/c.spring', 'file:///a/b/d.spring'],
    ['file:///a/b/c.spring', 'file:///x.spring'],
    ['vscode-vfs://host/a/c.spring', 'vscode-vfs://host/a/b%20b/d.spring'],
  ]) {
    expect(resolveUse(from, relativeUse(from, to)!)).toBe(to);
  }
  expect(relativeUse('file:///a.spring', 'vscode-vfs://host/b.spring')).toBeUndefined();
});

/** Texts that the renaming changes. */
async function renamed(oldUri: string, newUri: string): Promise<Record<string, string>> {
  const workspace = createWorkspace({ readFile: async (uri) => files[uri as keyof typeof files] });
  const sources = await Promise.all(Object.keys(files).map((uri) => workspace.source(uri)));
  const edit = provideFileRename(sources as SourceView[], [{ oldUri, newUri }]);
  return Object.fromEntries(
    Object.entries(edit?.changes ?? {}).map(([uri, edits]) => [
      uri,
      TextDocument.applyEdits(TextDocument.create(uri, '', 1, files[uri as keyof typeof files]), edits),
    ]),
  );
}
