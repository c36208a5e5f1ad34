/** A file with all that it uses, apart from the places where they lie. */
import type { SourceFile } from '#grammar/tree';
import type { Snapshot } from './snapshot';
import { bundledName, canonicalUri, resolveUse } from './uri';

export interface SelfContained {
  readonly uri: string;
  /** Texts of the files that it uses, directly and through others, by uri; bundled modules are not among them. */
  readonly modules: Readonly<Record<string, string>>;
}

/** Their places relative to each other are kept; the folder that they have in common, which tells of the machine, is not. */
export function selfContained(snapshot: Snapshot): SelfContained {
  const own = canonicalUri(snapshot.uri);
  const texts = new Map<string, string>();
  const visit = (uri: string, { items }: SourceFile): void => {
    for (const item of items) {
      if (item.kind !== 'use' || item.path === undefined) continue;
      const used = resolveUse(uri, item.path.value);
      const module = snapshot.module(used);
      if (module === undefined || used === own || texts.has(used) || bundledName(used) !== undefined) continue;
      texts.set(used, module.text);
      visit(used, module.file.tree);
    }
  };
  visit(own, snapshot.parse.tree);
  const shared = sharedFolder([own, ...texts.keys()]);
  const placed = (uri: string): string => `file:///${uri.slice(shared.length).replace(/^[a-z][a-z0-9+.-]*:/, '')}`;
  return { uri: placed(own), modules: Object.fromEntries([...texts].map(([uri, text]) => [placed(uri), text])) };
}

/** The longest beginning of all that ends with a slash. */
function sharedFolder([first, ...others]: readonly string[]): string {
  let length = first.lastIndexOf('/') + 1;
  for (const other of others) {
    while (!other.startsWith(first.slice(0, length))) length = first.lastIndexOf('/', length - 2) + 1;
  }
  return first.slice(0, length);
}
