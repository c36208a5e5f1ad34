import { randomBytes, timingSafeEqual } from 'node:crypto';

/**
 * Who may talk to the server. It listens on the loopback address only, but every page in every browser on this machine can
 * send requests there, so three things are checked:
 *
 * - Host: a name that resolves to this machine but is not ours (DNS rebinding) is refused.
 * - Origin: a page of another origin is refused. Same-origin GETs carry no Origin and pass.
 * - Token: new at each start, known only to whoever saw the printed address. It opens the page and every file request, so that
 *   neither another page nor another user of this machine reads or writes files.
 */

/** The header in which file requests carry the token. A foreign page cannot set it without asking first, which is refused. */
export const tokenHeader = 'x-springwright-token';

export const createToken = () => randomBytes(24).toString('base64url');

/**
 * @param {import('node:http').IncomingMessage} request
 * @param {number} port The port served at.
 * @returns {string | undefined} Why the request is refused.
 */
export function refusal(request, port) {
  const hosts = [`127.0.0.1:${port}`, `localhost:${port}`];
  const { host, origin } = request.headers;
  if (host === undefined || !hosts.includes(host)) return 'This host name is not served here.';
  if (origin !== undefined && origin !== `http://${host}`) return 'Requests from other pages are refused.';
  return undefined;
}

/**
 * @param {string | string[] | null | undefined} given
 * @param {string} token
 */
export function isToken(given, token) {
  if (typeof given !== 'string') return false;
  const a = Buffer.from(given);
  const b = Buffer.from(token);
  return a.length === b.length && timingSafeEqual(a, b);
}
