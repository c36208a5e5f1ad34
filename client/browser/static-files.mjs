import { readFile, realpath } from 'node:fs/promises';
import path from 'node:path';

/**
 * One file below a folder that is ours to publish, or undefined where there is none. Encoded and plain `..` lead nowhere: the
 * real path has to lie below the folder.
 * @param {string} folder
 * @param {string} relative Decoded path below the folder.
 * @returns {Promise<{ type: string, body: Buffer } | undefined>}
 */
export async function readStaticFile(folder, relative) {
  try {
    const root = await realpath(folder);
    const file = await realpath(path.join(root, relative));
    if (!file.startsWith(root + path.sep)) return undefined;
    return { type: contentTypes[path.extname(file)] ?? 'application/octet-stream', body: await readFile(file) };
  } catch {
    return undefined;
  }
}

/** @type {Record<string, string>} */
const contentTypes = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.map': 'application/json',
  '.mp3': 'audio/mpeg',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
};
