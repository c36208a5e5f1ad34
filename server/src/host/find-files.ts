/** Turns paths given on a command line into the `.spring` files they stand for. */
import { lstat, stat } from 'node:fs/promises';
import { relative, resolve, sep } from 'node:path';
import { glob, isDynamicPattern } from 'tinyglobby';
import { standardInput } from './spring-file';

export interface FoundFiles {
  /** Absolute, each once, ordered by their path as shown. */
  readonly files: readonly string[];
  /** One line for each path that stands for nothing. */
  readonly mistakes: readonly string[];
}

/** Folders are searched to any depth; links inside them are not followed, so that no circle of links can trap the search. */
export async function findSpringFiles(paths: readonly string[], cwd: string): Promise<FoundFiles> {
  const files = new Set<string>();
  const mistakes: string[] = [];
  for (const path of paths) {
    const full = resolve(cwd, path);
    const kind = path === standardInput ? 'input' : await kindOf(full);
    if (kind === 'folder') {
      const inside = await search('**/*.spring', full);
      if (inside.length === 0) mistakes.push(`No .spring files in ${path}.`);
      for (const file of inside) files.add(file);
    } else if (kind === 'input') {
      files.add(full);
    } else if (kind === 'missing' && isDynamicPattern(path)) {
      // A shell that does not know the pattern hands it on as it is.
      const matching = (await search(path, cwd)).filter((file) => file.endsWith('.spring'));
      if (matching.length === 0) mistakes.push(`No .spring files match ${path}.`);
      for (const file of matching) files.add(file);
    } else if (kind === 'missing') {
      mistakes.push(`No such file or folder: ${path}.`);
    } else if (!path.endsWith('.spring')) {
      mistakes.push(`Not a .spring file: ${path}.`);
    } else {
      files.add(full);
    }
  }
  return { files: [...files].sort((a, b) => byCodeUnits(displayPath(a, cwd), displayPath(b, cwd))), mistakes };
}

/** Absolute paths of the files below a folder whose names end so, in any order; none where there is no such folder. */
export async function filesBelow(folder: string, ending: string, cwd: string): Promise<readonly string[]> {
  const full = resolve(cwd, folder);
  return (await kindOf(full)) === 'folder' ? search(`**/*${ending}`, full) : [];
}

async function search(pattern: string, cwd: string): Promise<string[]> {
  const found = await glob(pattern, {
    cwd,
    absolute: true,
    followSymbolicLinks: false,
    ignore: ['**/node_modules/**', '**/.git/**'],
    dot: false,
  });
  return found.map((file) => resolve(file));
}

/** Relative to the working directory, with forward slashes. */
export function displayPath(path: string, cwd: string): string {
  return relative(cwd, path).split(sep).join('/') || '.';
}

async function kindOf(path: string): Promise<'file' | 'folder' | 'missing'> {
  try {
    return (await stat(path)).isDirectory() ? 'folder' : 'file';
  } catch {
    // A broken link, or one that leads in a circle, is there but cannot be read: reading it says why.
    return (await lstat(path).catch(() => undefined)) === undefined ? 'missing' : 'file';
  }
}

/** The same order on every machine, whatever its language. */
function byCodeUnits(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
