/** Items of all files by name: appliances, parts, alloys, sizes and values. */
import { SymbolKind, type WorkspaceSymbol } from 'vscode-languageserver-types';
import type { Item } from '#grammar/tree';
import type { SourceView } from '#workspace/snapshot';
import { rangeOf } from './positions';

export function provideWorkspaceSymbols(sources: readonly SourceView[], query: string): WorkspaceSymbol[] {
  return sources.flatMap((source) =>
    source.parse.tree.items.flatMap((item): WorkspaceSymbol[] => {
      if (item.kind === 'use' || item.name === undefined || item.name.text === '') return [];
      const { text, span } = item.name;
      if (!matches(text, query)) return [];
      const location = { uri: source.uri, range: rangeOf(source, span) };
      return [{ name: text, kind: symbolKinds[item.kind], location, containerName: fileName(source.uri) }];
    }),
  );
}

const symbolKinds: Readonly<Record<Exclude<Item['kind'], 'use'>, SymbolKind>> = {
  let: SymbolKind.Constant,
  alloy: SymbolKind.Struct,
  section: SymbolKind.Constant,
  slot: SymbolKind.Constant,
  part: SymbolKind.Function,
  appliance: SymbolKind.Class,
  variant: SymbolKind.Class,
};

/** Whether the letters of the query stand in the name in this order: the editor ranks what is left. */
function matches(name: string, query: string): boolean {
  const letters = [...query.toLowerCase().replace(/\s/g, '')];
  let from = 0;
  return letters.every((letter) => {
    const at = name.toLowerCase().indexOf(letter, from);
    from = at + 1;
    return at >= 0;
  });
}

function fileName(uri: string): string {
  return decodeURIComponent(uri.slice(uri.lastIndexOf('/') + 1));
}
