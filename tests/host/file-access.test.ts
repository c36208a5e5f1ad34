/** Nothing outside the working copy is read, written, listed, renamed or removed. */
import { access, link, mkdir, readFile, symlink, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { type ServedFolder, serveFolder } from './served-folder';

let served: ServedFolder;
beforeEach(async () => {
  served = await serveFolder();
});
afterEach(async () => {
  // Whatever was tried, what lies outside is as it was.
  expect(await readFile(path.join(served.base, 'outside', 'secret.txt'), 'utf8')).toBe('secret');
  await served.close();
});

const writing = { create: 'true', overwrite: 'true' };

test('a saved file is on disk and reads back byte for byte', async () => {
  const text = 'wire 0.017 in x 0.025 in\r\n// µ ⌀ 🦷\n';
  expect((await served.file('write', { path: '/loop.spring', ...writing }, text)).status).toBe(200);
  expect(await readFile(path.join(served.folder, 'loop.spring'), 'utf8')).toBe(text);
  expect((await served.file('read', { path: '/loop.spring' })).text).toBe(text);
  const facts = JSON.parse((await served.file('stat', { path: '/loop.spring' })).text);
  expect(facts).toMatchObject({ type: 'file', size: Buffer.byteLength(text) });
  expect(facts.modified).toBeGreaterThan(0);
});

test('a shorter text leaves nothing of the longer one', async () => {
  await served.file('write', { path: '/loop.spring', ...writing }, 'a long text');
  await served.file('write', { path: '/loop.spring', ...writing }, 'short');
  expect(await readFile(path.join(served.folder, 'loop.spring'), 'utf8')).toBe('short');
});

test('folders are made and listed, files are created, renamed and removed', async () => {
  expect((await served.file('make-folder', { path: '/new' })).status).toBe(200);
  expect((await served.file('write', { path: '/new/a.spring', ...writing }, 'a')).status).toBe(200);
  expect((await served.file('rename', { path: '/new/a.spring', to: '/new/b.spring' })).status).toBe(200);
  expect(JSON.parse((await served.file('list', { path: '/new' })).text)).toEqual([['b.spring', 'file']]);
  expect((await served.file('remove', { path: '/new' })).status).toBe(403);
  expect((await served.file('remove', { path: '/new', recursive: 'true' })).status).toBe(200);
  expect((await served.file('stat', { path: '/new' })).status).toBe(404);
});

test('creating and overwriting are only done when asked for', async () => {
  const absent = await served.file('write', { path: '/absent.spring', create: 'false', overwrite: 'true' }, 'x');
  expect(absent.status).toBe(404);
  const present = await served.file('write', { path: '/loop.spring', create: 'true', overwrite: 'false' }, 'x');
  expect(present.status).toBe(409);
  const onto = await served.file('rename', { path: '/loop.spring', to: '/parts/loops.spring', overwrite: 'false' });
  expect(onto.status).toBe(409);
  expect(await readFile(path.join(served.folder, 'loop.spring'), 'utf8')).toBe('inside');
});

test.each([
  '/../outside/secret.txt',
  '/parts/../../outside/secret.txt',
  '/parts/../loop.spring',
  '/./loop.spring',
  '/..',
  '../outside/secret.txt',
  'loop.spring',
  '',
  '/..\\outside\\secret.txt',
  '/C:/Windows/win.ini',
  '/loop.spring:stream',
  '/loop.spring\0.txt',
  '/.../secret.txt',
  '/.. /outside/secret.txt',
  '/.git/config',
  '/parts/.GIT/hooks/pre-commit',
])('the path %j is refused by every operation', async (requested) => {
  for (const operation of ['stat', 'list', 'read', 'make-folder', 'remove']) {
    expect((await served.file(operation, { path: requested, recursive: 'true' })).status).toBe(403);
  }
  expect((await served.file('write', { path: requested, ...writing }, 'x')).status).toBe(403);
  expect((await served.file('rename', { path: '/loop.spring', to: requested, overwrite: 'true' })).status).toBe(403);
  expect((await served.file('rename', { path: requested, to: '/taken.spring' })).status).toBe(403);
});

test('encoded dots are decoded once, then refused; twice encoded they are an ordinary name', async () => {
  const { port, token } = served;
  const headers = { origin: `http://127.0.0.1:${port}`, 'x-springwright-token': token };
  const read = (requested: string) =>
    served.send(`/files/read?path=${requested}`, { method: 'POST', headers }).then(({ status }) => status);
  expect(await read('/%2e%2e/outside/secret.txt')).toBe(403);
  expect(await read('/%2e%2e%2foutside%2fsecret.txt')).toBe(403);
  expect(await read('/..%5coutside%5csecret.txt')).toBe(403);
  expect(await read('/%252e%252e/outside/secret.txt')).toBe(404);
});

test('absolute paths are within the folder, never of the disk', async () => {
  const outside = path.join(served.base, 'outside', 'secret.txt').replaceAll('\\', '/');
  expect((await served.file('read', { path: outside })).status).toBeGreaterThanOrEqual(403);
});

test('symbolic links are neither followed, listed, replaced nor removed', async () => {
  await symlink(path.join(served.base, 'outside'), path.join(served.folder, 'out'));
  await symlink(path.join(served.base, 'outside', 'secret.txt'), path.join(served.folder, 'secret.spring'));
  await symlink(path.join(served.base, 'outside', 'made.txt'), path.join(served.folder, 'dangling.spring'));
  await symlink(path.join(served.folder, 'parts'), path.join(served.folder, 'inward'));
  for (const requested of ['/out', '/out/secret.txt', '/secret.spring', '/dangling.spring', '/inward/loops.spring']) {
    for (const operation of ['stat', 'list', 'read', 'remove']) {
      expect((await served.file(operation, { path: requested, recursive: 'true' })).status).toBe(403);
    }
    expect((await served.file('write', { path: requested, ...writing }, 'x')).status).toBe(403);
    expect((await served.file('rename', { path: requested, to: '/taken.spring' })).status).toBe(403);
    expect((await served.file('rename', { path: '/loop.spring', to: requested, overwrite: 'true' })).status).toBe(403);
  }
  await expect(access(path.join(served.base, 'outside', 'made.txt'))).rejects.toThrow('ENOENT');
  expect(JSON.parse((await served.file('list', { path: '/' })).text).sort()).toEqual([
    ['loop.spring', 'file'],
    ['parts', 'folder'],
  ]);
});

test('removing a folder leaves what links inside it lead to', async () => {
  await mkdir(path.join(served.folder, 'old'));
  await symlink(path.join(served.base, 'outside'), path.join(served.folder, 'old', 'out'));
  await link(path.join(served.folder, 'loop.spring'), path.join(served.folder, 'old', 'loop.spring'));
  expect((await served.file('remove', { path: '/old', recursive: 'true' })).status).toBe(200);
  expect(await readFile(path.join(served.folder, 'loop.spring'), 'utf8')).toBe('inside');
});

test('the folder itself stays', async () => {
  expect((await served.file('remove', { path: '/', recursive: 'true' })).status).toBe(403);
  expect((await served.file('rename', { path: '/', to: '/parts/folder' })).status).toBe(403);
  expect((await served.file('write', { path: '/', ...writing }, 'x')).status).toBe(400);
});

test('failures name no path of the machine', async () => {
  await writeFile(path.join(served.folder, 'plain'), '');
  for (const answer of [
    await served.file('read', { path: '/absent' }),
    await served.file('read', { path: '/plain/below' }),
    await served.file('list', { path: '/plain' }),
    await served.file('read', { path: '/parts' }),
    await served.file('rename', { path: '/parts', to: '/parts/below' }),
  ]) {
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.text).not.toContain(served.base);
  }
});

test('a file above the limit is refused and the server lives on', async () => {
  const answer = await served.file('write', { path: '/large.spring', ...writing }, 'x'.repeat(17 * 1024 * 1024));
  expect(answer.status).toBe(403);
  expect((await served.file('read', { path: '/loop.spring' })).text).toBe('inside');
  expect((await served.file('stat', { path: '/large.spring' })).status).toBe(404);
});
