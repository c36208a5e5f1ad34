/** Who is answered: host, origin, token and method. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type ServedFolder, serveFolder } from './served-folder';

let served: ServedFolder;
beforeAll(async () => {
  served = await serveFolder();
});
afterAll(() => served.close());

const own = () => `http://127.0.0.1:${served.port}`;
const read = '/files/read?path=/loop.spring';

test('our own page reads a file', async () => {
  const answer = await served.file('read', { path: '/loop.spring' });
  expect(answer.status).toBe(200);
  expect(answer.text).toBe('inside');
});

test('the printed address opens the page, which no other page may frame', async () => {
  const { pathname, search } = new URL(served.address);
  const answer = await served.send(pathname + search);
  expect(answer.status).toBe(200);
  expect(answer.text).toContain('springwright-folder');
  expect(answer.headers['content-security-policy']).toContain("frame-ancestors 'none'");
  expect(answer.headers['content-security-policy']).toContain("connect-src 'self'");
  expect(answer.headers['referrer-policy']).toBe('no-referrer');
});

test.each(['', '?token=', '?token=wrong', '?token=x&token=y'])('the page does not open with "%s"', async (query) => {
  const answer = await served.send(`/${query}`);
  expect(answer.status).toBe(403);
  expect(answer.text).not.toContain(served.token);
});

test.each(['evil.example', 'evil.example:80', '127.0.0.1', '127.0.0.1:1', 'localhost.evil.example'])(
  'host %s is refused everywhere',
  async (host) => {
    for (const target of ['/', `/?token=${served.token}`, '/vscode/package.json', '/extension/package.json']) {
      expect((await served.send(target, { headers: { host } })).status).toBe(403);
    }
    const headers = { host, 'x-springwright-token': served.token };
    expect((await served.send(read, { method: 'POST', headers })).status).toBe(403);
  },
);

test('localhost with our port is our host', async () => {
  const host = `localhost:${served.port}`;
  const headers = { host, origin: `http://${host}`, 'x-springwright-token': served.token };
  expect((await served.send(read, { method: 'POST', headers })).status).toBe(200);
});

test.each(['http://evil.example', 'null', 'https://127.0.0.1', 'http://127.0.0.1:1'])(
  'origin %s is refused, also with the token',
  async (origin) => {
    const headers = { origin, 'x-springwright-token': served.token };
    expect((await served.send(read, { method: 'POST', headers })).status).toBe(403);
    expect((await served.send(`/?token=${served.token}`, { headers })).status).toBe(403);
  },
);

test('an origin that differs from the host is refused, though both are ours', async () => {
  const headers = {
    host: `localhost:${served.port}`,
    origin: own(),
    'x-springwright-token': served.token,
  };
  expect((await served.send(read, { method: 'POST', headers })).status).toBe(403);
});

test('no answer carries a permission for other origins', async () => {
  const asked = await served.send(read, {
    method: 'OPTIONS',
    headers: { origin: 'http://evil.example', 'access-control-request-headers': 'x-springwright-token' },
  });
  expect(asked.status).toBe(403);
  const answered = await served.file('read', { path: '/loop.spring' });
  for (const { headers } of [asked, answered]) expect(headers).not.toHaveProperty('access-control-allow-origin');
});

test.each(['stat', 'list', 'read', 'write', 'make-folder', 'remove', 'rename'])(
  '%s is refused without the token and with a wrong one',
  async (operation) => {
    const target = `/files/${operation}?path=/loop.spring&to=/b&overwrite=true&create=true`;
    const wrong = `${served.token.slice(0, -1)}${served.token.endsWith('A') ? 'B' : 'A'}`;
    const attempts: Record<string, string>[] = [{}, { 'x-springwright-token': '' }, { 'x-springwright-token': wrong }];
    for (const headers of attempts) {
      expect((await served.send(target, { method: 'POST', headers, body: 'x' })).status).toBe(403);
    }
    // In the address it does not count: a foreign page could send that.
    expect((await served.send(`${target}&token=${served.token}`, { method: 'POST' })).status).toBe(403);
    expect((await served.file('read', { path: '/loop.spring' })).text).toBe('inside');
  },
);

test('a token is of one start only', async () => {
  const other = await serveFolder();
  try {
    expect(other.token).not.toBe(served.token);
    expect(served.token.length).toBeGreaterThanOrEqual(32);
  } finally {
    await other.close();
  }
});

test('file requests are sent with POST, everything else is read with GET', async () => {
  const headers = { origin: own(), 'x-springwright-token': served.token };
  expect((await served.send(read, { headers })).status).toBe(405);
  expect((await served.send('/extension/package.json', { method: 'PUT', headers })).status).toBe(405);
});

test('the files extension is handed out below the token only', async () => {
  expect((await served.send('/files-extension/wrong/main.js')).status).toBe(404);
  expect((await served.send('/files-extension/main.js')).status).toBe(404);
  const answer = await served.send(`/files-extension/${served.token}/main.js`);
  expect(answer.status).toBe(200);
  expect(answer.headers['content-type']).toContain('javascript');
});

test('addresses that cannot be read do no harm', async () => {
  for (const target of ['/%', '/%ff%fe', '//', '/vscode/%00', '/extension/dist/%00.js']) {
    expect([400, 404]).toContain((await served.send(target)).status);
  }
  expect((await served.file('read', { path: '/loop.spring' })).status).toBe(200);
});
