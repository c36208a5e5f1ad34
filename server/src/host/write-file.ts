/** Writes a file whole or not at all. */
import { lstat, mkdir, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { systemReason } from './system-reason';
import { whileWriting } from './while-writing';

export interface WriteOptions {
  /** Whether folders that it lies in are made. */
  readonly folders?: boolean;
}

/**
 * Under another name beside it first, which then takes the place of the file.
 * Undefined where it is written, else why not, in plain words.
 */
export async function writeWholeFile(
  path: string,
  bytes: Uint8Array,
  cwd: string,
  { folders = false }: WriteOptions = {},
): Promise<string | undefined> {
  if (folders) {
    const mistake = await makeFolderOf(resolve(cwd, path));
    if (mistake !== undefined) return mistake;
  }
  // A link stays a link, and a file keeps its rights.
  const full = await realpath(resolve(cwd, path)).catch(() => resolve(cwd, path));
  const mode = await stat(full).then(
    (known) => known.mode,
    () => undefined,
  );
  const meanwhile = `${full}.${process.pid}.partial`;
  return whileWriting(meanwhile, async () => {
    try {
      await writeFile(meanwhile, bytes, { flag: 'wx', ...(mode !== undefined && { mode }) });
      await rename(meanwhile, full);
      return undefined;
    } catch (error) {
      await rm(meanwhile, { force: true }).catch(() => undefined);
      return `cannot be written: ${systemReason(error)}`;
    }
  });
}

/** What became of a file that is written only where there is none. */
export type NewFile = 'written' | 'there already' | { readonly mistake: string };

/** With the folders that it lies in; what is there already, a broken link too, stays as it is. */
export async function writeNewFile(path: string, bytes: Uint8Array, cwd: string): Promise<NewFile> {
  const full = resolve(cwd, path);
  const mistake = await makeFolderOf(full);
  if (mistake !== undefined) return { mistake };
  if (await isThere(full)) return 'there already';
  return whileWriting(full, async (): Promise<NewFile> => {
    try {
      await writeFile(full, bytes, { flag: 'wx' });
      return 'written';
    } catch (error) {
      if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return 'there already';
      await rm(full, { force: true }).catch(() => undefined);
      return { mistake: `cannot be written: ${systemReason(error)}` };
    }
  });
}

/** Undefined where the file is gone, or never was, else why not. */
export async function removeFile(path: string, cwd: string): Promise<string | undefined> {
  try {
    await rm(resolve(cwd, path), { force: true });
    return undefined;
  } catch (error) {
    return `cannot be removed: ${systemReason(error)}`;
  }
}

async function makeFolderOf(full: string): Promise<string | undefined> {
  try {
    await mkdir(dirname(full), { recursive: true });
    return undefined;
  } catch (error) {
    return `cannot be written: its folder cannot be made, ${systemReason(error)}`;
  }
}

async function isThere(path: string): Promise<boolean> {
  return lstat(path).then(
    () => true,
    () => false,
  );
}
