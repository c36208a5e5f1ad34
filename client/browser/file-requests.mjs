import { FileFailure } from './file-access.mjs';

/** Largest file that is taken over HTTP, in bytes. Designs are text of a few kilobytes. */
const largestFile = 16 * 1024 * 1024;

/**
 * Answers `POST /files/OPERATION?path=...`: facts and listings as JSON, file content as bytes, failures as
 * `{ code, message }`. The caller has checked host, origin and token.
 * @param {import('./file-access.mjs').FileAccess} files
 * @param {string} operation
 * @param {URLSearchParams} parameters
 * @param {import('node:http').IncomingMessage} request
 * @param {import('node:http').ServerResponse} response
 */
export async function answerFileRequest(files, operation, parameters, request, response) {
  try {
    const result = await perform(files, operation, parameters, request);
    if (result instanceof Uint8Array) send(response, 200, 'application/octet-stream', result);
    else send(response, 200, 'application/json', JSON.stringify(result ?? null));
  } catch (error) {
    const failure = asFailure(error);
    send(response, statusOf[failure.code], 'application/json', JSON.stringify(failure));
  }
}

/**
 * @param {import('./file-access.mjs').FileAccess} files
 * @param {string} operation
 * @param {URLSearchParams} parameters
 * @param {import('node:http').IncomingMessage} request
 */
async function perform(files, operation, parameters, request) {
  const path = parameters.get('path') ?? '';
  /** @param {string} name */
  const isSet = (name) => parameters.get(name) === 'true';
  switch (operation) {
    case 'stat':
      return files.stat(path);
    case 'list':
      return files.list(path);
    case 'read':
      return files.read(path);
    case 'write':
      return files.write(path, await readBody(request), { create: isSet('create'), overwrite: isSet('overwrite') });
    case 'make-folder':
      return files.makeFolder(path);
    case 'remove':
      return files.remove(path, { recursive: isSet('recursive') });
    case 'rename':
      return files.rename(path, parameters.get('to') ?? '', { overwrite: isSet('overwrite') });
    default:
      throw new FileFailure('FileNotFound', `There is no file operation "${operation}".`);
  }
}

/**
 * @param {import('node:http').IncomingMessage} request
 * @returns {Promise<Uint8Array>}
 */
async function readBody(request) {
  /** @type {Buffer[]} */
  const chunks = [];
  let size = 0;
  // Read to the end in any case: a connection that is cut off would hide the answer.
  for await (const chunk of request) {
    size += chunk.length;
    if (size <= largestFile) chunks.push(chunk);
  }
  if (size > largestFile) throw new FileFailure('NoPermissions', 'The file is larger than 16 MB.');
  return Buffer.concat(chunks);
}

/** @type {Record<import('./file-access.mjs').FailureCode, number>} */
const statusOf = {
  FileNotFound: 404,
  FileExists: 409,
  FileNotADirectory: 400,
  FileIsADirectory: 400,
  NoPermissions: 403,
};

/**
 * @param {unknown} error
 * @returns {{ code: import('./file-access.mjs').FailureCode, message: string }}
 */
function asFailure(error) {
  if (error instanceof FileFailure) return { code: error.code, message: error.message };
  // What the system says names the full path; the page needs only the kind of failure.
  const { code } = /** @type {NodeJS.ErrnoException} */ (error);
  return { code: 'NoPermissions', message: `The file system refused this (${code ?? 'unknown reason'}).` };
}

/**
 * @param {import('node:http').ServerResponse} response
 * @param {number} status
 * @param {string} type
 * @param {string | Uint8Array} body
 */
function send(response, status, type, body) {
  response.writeHead(status, { 'content-type': type, 'cache-control': 'no-store' });
  response.end(body);
}
