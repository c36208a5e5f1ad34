/** Writes a file whole or not at all: under another name first, which then takes the place of the file. */
import { rename, rm, writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { systemReason } from './system-reason';

/** Undefined where it is written, else why not, in plain words. */
export async function writeWholeFile(path: string, bytes: Uint8Array, cwd: string): Promise<string | undefined> {
  const full = resolve(cwd, path);
  const meanwhile = `${full}.${process.pid}.partial`;
  try {
    await writeFile(meanwhile, bytes, { flag: 'wx' });
    await rename(meanwhile, full);
    return undefined;
  } catch (error) {
    await rm(meanwhile, { force: true }).catch(() => undefined);
    return `cannot be written: ${systemReason(error)}`;
  }
}
