/** Writes a file whole or not at all: under another name first, which then takes the place of the file. */
import { realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { systemReason } from './system-reason';

/** Undefined where it is written, else why not, in plain words. */
export async function writeWholeFile(path: string, bytes: Uint8Array, cwd: string): Promise<string | undefined> {
  // A link stays a link, and a file keeps its rights.
  const full = await realpath(resolve(cwd, path)).catch(() => resolve(cwd, path));
  const mode = await stat(full).then(
    (known) => known.mode,
    () => undefined,
  );
  const meanwhile = `${full}.${process.pid}.partial`;
  try {
    await writeFile(meanwhile, bytes, { flag: 'wx', ...(mode !== undefined && { mode }) });
    await rename(meanwhile, full);
    return undefined;
  } catch (error) {
    await rm(meanwhile, { force: true }).catch(() => undefined);
    return `cannot be written: ${systemReason(error)}`;
  }
}
