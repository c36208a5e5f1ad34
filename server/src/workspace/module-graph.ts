/**
 * Texts by uri and the `use` edges between them. Parses once per text; resolves once per text and
 * state of everything it uses. Loading is asynchronous and comes first; resolving is synchronous.
 */
import { parse } from '#grammar/parser';
import type { ParseResult } from '#grammar/tree';
import { library } from '#library';
import { type ImportResult, resolveFile } from '#model/resolve';
import type { ResolvedFile } from '#model/resolved';
import { bundledName, canonicalUri, resolveUse } from './uri';

export interface Module {
  /** As first given, which is how editor and reports show it. */
  readonly uri: string;
  readonly text: string;
  readonly parse: ParseResult;
  /** Canonical uris of the modules it uses, in source order. */
  readonly uses: readonly string[];
}

/** The text of a file, or what keeps it from being read; undefined where there is no such file. */
export type FileAnswer = string | { readonly unreadable: string } | undefined;

export interface ModuleGraph {
  /** Sets or replaces the text of a module. */
  set(uri: string, text: string): void;
  /** Drops what is known of a module: it is read again when next needed. */
  forget(uri: string): void;
  /** Reads everything that `uri` uses, directly and through others, and is not yet known. */
  load(uri: string): Promise<void>;
  get(uri: string): Module | undefined;
  /** Requires the module's own text to be set or loaded. Uses that are not loaded count as missing. */
  resolve(uri: string): ResolvedFile | undefined;
  /** What a module would be with another text, which is not kept. */
  tryOut(uri: string, text: string): { readonly module: Module; readonly file: ResolvedFile } | undefined;
  /** Everything that `uri` uses, directly and through others, by canonical uri. */
  used(uri: string): ReadonlyMap<string, { readonly text: string; readonly file: ResolvedFile }>;
  /** Whether `from` uses `to`, directly or through others. */
  reaches(from: string, to: string): boolean;
  readonly parses: number;
}

export function createModuleGraph(readFile: (uri: string) => Promise<FileAnswer>): ModuleGraph {
  const modules = new Map<string, Module>();
  /** Files that were asked for and are not there, or why they cannot be read, until `forget` says they might be. */
  const missing = new Map<string, string | undefined>();
  const loading = new Map<string, Promise<void>>();
  const resolved = new Map<string, { module: Module; imports: readonly unknown[]; file: ResolvedFile }>();
  let parses = 0;

  const set = (uri: string, text: string): void => {
    const key = canonicalUri(uri);
    const known = modules.get(key);
    missing.delete(key);
    if (known?.text === text) return;
    parses += 1;
    const result = parse(text, known);
    modules.set(key, { uri: known?.uri ?? uri, text, parse: result, uses: usesOf(uri, result) });
  };

  const read = (key: string): Promise<void> => {
    const running = loading.get(key);
    if (running !== undefined) return running;
    const started = textOf(key, readFile)
      .then((text) => {
        // An editor may have opened the document while it was being read; its text counts.
        if (modules.has(key)) return;
        if (typeof text === 'string') set(key, text);
        else missing.set(key, text?.unreadable);
      })
      .finally(() => loading.delete(key));
    loading.set(key, started);
    return started;
  };

  const load = async (uri: string): Promise<void> => {
    const seen = new Set<string>();
    const visit = async (key: string): Promise<void> => {
      if (seen.has(key)) return;
      seen.add(key);
      if (!modules.has(key) && !missing.has(key)) await read(key);
      await Promise.all((modules.get(key)?.uses ?? []).map(visit));
    };
    await visit(canonicalUri(uri));
  };

  const resolve = (uri: string): ResolvedFile | undefined => {
    const key = canonicalUri(uri);
    const module = modules.get(key);
    if (module === undefined) return undefined;
    const imports = importsOf(key, module);
    const earlier = resolvedWith(key, imports);
    if (earlier?.module === module) return earlier.file;
    const file = resolveModule(module, imports, earlier?.file);
    resolved.set(key, { module, imports: [...imports.values()].map(identityOf), file });
    return file;
  };

  /** What the module last came to, if with the same of all that it uses. */
  const resolvedWith = (key: string, imports: ReadonlyMap<string, ImportResult>) => {
    const kept = resolved.get(key);
    return kept && sameItems(kept.imports, [...imports.values()].map(identityOf)) ? kept : undefined;
  };

  const importsOf = (key: string, { uses }: Module): ReadonlyMap<string, ImportResult> =>
    new Map(uses.map((used) => [used, importOf(key, used)]));

  const importOf = (from: string, to: string): ImportResult => {
    if (!modules.has(to)) return { kind: 'missing', unreadable: missing.get(to) };
    const way = pathBetween(to, from);
    if (way !== undefined) return { kind: 'cycle', path: [from, ...way] };
    return { kind: 'module', file: resolve(to) as ResolvedFile };
  };

  /** The chain of uses from one module to another, both included. */
  const pathBetween = (from: string, to: string): string[] | undefined => {
    const seen = new Set<string>();
    const visit = (key: string): string[] | undefined => {
      if (key === to) return [key];
      if (seen.has(key)) return undefined;
      seen.add(key);
      for (const used of modules.get(key)?.uses ?? []) {
        const rest = visit(used);
        if (rest !== undefined) return [key, ...rest];
      }
      return undefined;
    };
    return visit(from);
  };

  const used = (uri: string): ReadonlyMap<string, { text: string; file: ResolvedFile }> => {
    const found = new Map<string, { text: string; file: ResolvedFile }>();
    const visit = (key: string): void => {
      const module = modules.get(key);
      if (module === undefined || found.has(key)) return;
      found.set(key, { text: module.text, file: resolve(key) as ResolvedFile });
      module.uses.forEach(visit);
    };
    modules.get(canonicalUri(uri))?.uses.forEach(visit);
    return found;
  };

  return {
    set,
    forget(uri) {
      const key = canonicalUri(uri);
      modules.delete(key);
      resolved.delete(key);
      missing.delete(key);
    },
    load,
    tryOut(uri, text) {
      const key = canonicalUri(uri);
      const known = modules.get(key);
      if (known === undefined) return undefined;
      parses += 1;
      const result = parse(text, known);
      const module = { uri: known.uri, text, parse: result, uses: usesOf(uri, result) };
      const imports = importsOf(key, module);
      return { module, file: resolveModule(module, imports, resolvedWith(key, imports)?.file) };
    },
    get: (uri) => modules.get(canonicalUri(uri)),
    resolve,
    used,
    reaches: (from, to) => pathBetween(canonicalUri(from), canonicalUri(to)) !== undefined,
    get parses() {
      return parses;
    },
  };
}

function resolveModule(
  { uri, parse: { tree }, text }: Module,
  imports: ReadonlyMap<string, ImportResult>,
  earlier?: ResolvedFile,
): ResolvedFile {
  return resolveFile(
    uri,
    tree,
    text,
    (path) => imports.get(canonicalUri(resolveUse(uri, path))) ?? { kind: 'missing' },
    earlier,
  );
}

function usesOf(uri: string, { tree }: ParseResult): string[] {
  const paths = tree.items.flatMap((item) => (item.kind === 'use' && item.path !== undefined ? [item.path.value] : []));
  return [...new Set(paths.map((path) => canonicalUri(resolveUse(uri, path))))];
}

async function textOf(key: string, readFile: (uri: string) => Promise<FileAnswer>): Promise<FileAnswer> {
  const name = bundledName(key);
  if (name !== undefined) return library.get(name);
  try {
    return await readFile(key);
  } catch {
    return undefined; // A file that cannot be read is a file that is not there: its `use` line says so.
  }
}

/** What a resolution depended on, in one comparable value per import. */
function identityOf(result: ImportResult): unknown {
  if (result.kind === 'module') return result.file;
  return result.kind === 'cycle' ? result.path.join(' ') : `missing: ${result.unreadable}`;
}

function sameItems(left: readonly unknown[], right: readonly unknown[]): boolean {
  return left.length === right.length && left.every((item, index) => item === right[index]);
}
