/** Reads `.spring` files from disk, with a reason in plain words where that fails. */
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { systemReason } from './system-reason';

/** Larger files are no appliances: the limit keeps a mistaken argument from stalling a whole run. */
export const largestFile = 512 * 1024;

export const tooLarge = `is too large; ${limitWords(largestFile)}`;

export type FileText =
  | { readonly text: string }
  | { readonly unreadable: string /** There is no such file. */; readonly missing?: boolean };

/** Stands for what is piped in; no `.spring` file has this name. */
export const standardInput = '-';

/** @param largest  in bytes */
export async function readSpringFile(path: string, largest = largestFile): Promise<FileText> {
  try {
    if (basename(path) === standardInput) return await readInput(process.stdin);
    const known = await stat(path);
    // A pipe or a device may never end.
    if (!known.isFile() && !known.isDirectory()) return { unreadable: 'is a pipe or a device, not a file' };
    const { size } = known;
    if (size > largest) {
      return { unreadable: `is ${kilobytes(size)} kB large; ${limitWords(largest)}` };
    }
    return decodeSpringFile(await readFile(path));
  } catch (error) {
    const missing = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    return { unreadable: `cannot be read: ${systemReason(error)}`, ...(missing && { missing }) };
  }
}

async function readInput(input: AsyncIterable<Uint8Array>): Promise<FileText> {
  const pieces: Uint8Array[] = [];
  let size = 0;
  for await (const piece of input) {
    pieces.push(piece);
    size += piece.length;
    if (size > largestFile) return { unreadable: tooLarge };
  }
  return decodeSpringFile(Buffer.concat(pieces));
}

export function decodeSpringFile(bytes: Uint8Array): FileText {
  if (bytes.includes(0)) return { unreadable: 'is a binary file, not text' };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return { unreadable: 'is not valid UTF-8 text' };
  }
}

function limitWords(largest: number): string {
  return `files up to ${kilobytes(largest)} kB are read`;
}

function kilobytes(bytes: number): number {
  return Math.ceil(bytes / 1024);
}
