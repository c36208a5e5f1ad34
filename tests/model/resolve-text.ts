/** Resolves texts as the workspace does: bundled modules by name, others from a record of files. */
import { parse } from '#grammar/parser';
import { library } from '#library';
import { type ImportResult, resolveFile } from '#model/resolve';
import type { ResolvedAppliance, ResolvedFile } from '#model/resolved';

export function resolveText(
  text: string,
  files: Readonly<Record<string, string>> = {},
  uri = 'file:///test.spring',
  chain: readonly string[] = [],
): ResolvedFile {
  const imports = (path: string): ImportResult => {
    const bundled = library.get(path);
    const name = path.replace(/^\.\//, '');
    const target = bundled === undefined ? `file:///${name}` : `springwright-library:/${path}.spring`;
    const source = bundled ?? files[name];
    if (source === undefined) return { kind: 'missing' };
    if ([...chain, uri].includes(target)) return { kind: 'cycle', path: [...chain, uri, target] };
    return { kind: 'module', file: resolveText(source, files, target, [...chain, uri]) };
  };
  return resolveFile(uri, parse(text).tree, text, imports);
}

/** The file's only appliance, of which nothing is wrong but warnings. */
export function resolveAppliance(text: string, files?: Readonly<Record<string, string>>): ResolvedAppliance {
  const { problems: syntax } = parse(text);
  const file = resolveText(text, files);
  const errors = [...syntax, ...file.problems.filter(({ severity }) => severity === 'error')];
  if (errors.length > 0) throw new Error(errors.map(({ message }) => message).join('\n'));
  return file.appliances[0];
}
