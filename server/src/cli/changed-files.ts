/** Which files say something else than at a revision: by their own text, or by that of a module that they use. */
import { parse } from '#grammar/parser';
import { bundledName, resolveUse } from '#workspace/uri';
import type { FileSource } from './file-source';
import type { CliHost } from './run-report';

export interface ChangedFiles {
  /** Absolute, in the order of their paths as shown; in either source. */
  readonly files: readonly string[];
  /** One line where the path stands for nothing in either. */
  readonly mistake: string | undefined;
}

export async function changedFiles(
  path: string,
  before: FileSource,
  after: FileSource,
  host: CliHost,
): Promise<ChangedFiles> {
  const [earlier, later] = await Promise.all([before.find(path), after.find(path)]);
  const all = [...new Set([...earlier.files, ...later.files])];
  if (all.length === 0) {
    return { files: [], mistake: [...later.mistakes, ...earlier.mistakes][0] ?? `No .spring files in ${path}.` };
  }
  const changed: string[] = [];
  for (const file of all) {
    if ((await saidBy(file, before, host)) !== (await saidBy(file, after, host))) changed.push(file);
  }
  const shown = (file: string) => host.displayPath(file);
  return { files: changed.sort((a, b) => (shown(a) < shown(b) ? -1 : 1)), mistake: undefined };
}

/** The texts of a file and of all that it uses, as one text to compare. */
async function saidBy(file: string, source: FileSource, host: CliHost): Promise<string> {
  const texts = new Map<string, unknown>();
  const visit = async (path: string): Promise<void> => {
    if (texts.has(path)) return;
    texts.set(path, undefined);
    const content = await source.readFile(path);
    texts.set(path, content);
    if (content === undefined || !('text' in content)) return;
    const uri = host.uriOf(path);
    for (const item of parse(content.text).tree.items) {
      if (item.kind !== 'use' || item.path === undefined) continue;
      const used = resolveUse(uri, item.path.value);
      if (bundledName(used) === undefined) await visit(host.pathOf(used));
    }
  };
  await visit(file);
  return JSON.stringify([...texts]);
}
