/** Reads `.spring` files from disk, with a reason in plain words where that fails. */
import { readFile, stat } from 'node:fs/promises';
import { systemReason } from './system-reason';

/** Larger files are no appliances: the limit keeps a mistaken argument from stalling a whole run. */
export const largestFile = 512 * 1024;

export type FileText = { readonly text: string } | { readonly unreadable: string };

export async function readSpringFile(path: string): Promise<FileText> {
  try {
    const { size } = await stat(path);
    if (size > largestFile) {
      return { unreadable: `is ${kilobytes(size)} kB large; files up to ${kilobytes(largestFile)} kB are read` };
    }
    return decode(await readFile(path));
  } catch (error) {
    return { unreadable: `cannot be read: ${systemReason(error)}` };
  }
}

function decode(bytes: Uint8Array): FileText {
  if (bytes.includes(0)) return { unreadable: 'is a binary file, not text' };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return { unreadable: 'is not valid UTF-8 text' };
  }
}

function kilobytes(bytes: number): number {
  return Math.ceil(bytes / 1024);
}
