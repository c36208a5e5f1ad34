/** The packed extension in a VS Code with a Node extension host, as on a desktop: its interfaces, and git revisions compared. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'esbuild';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startNodeHost } from './node-host/start';
import { launchBrowser, type StartedHost, until, Workbench } from './workbench';

const example = path.resolve(import.meta.dirname, '../../examples/06-space-closing-spring.spring');

let browser: Browser;
let base: string;
let folder: string;
let host: StartedHost;

beforeAll(async () => {
  browser = await launchBrowser();
  base = mkdtempSync(path.join(tmpdir(), 'springwright-node-host-'));
  folder = path.join(base, 'designs');
  mkdirSync(folder);
  const text = readFileSync(example, 'utf8');
  const lower = text.replace('loop_height = 9 mm', 'loop_height = 7 mm');
  writeFileSync(path.join(folder, 'spring.spring'), text);
  writeFileSync(path.join(folder, 'closed.spring'), text.replace('straight 8 mm', 'straight 8 deg'));
  // Nobody's own git settings count.
  const env = { ...process.env, GIT_CONFIG_GLOBAL: path.join(base, 'gitconfig'), GIT_CONFIG_NOSYSTEM: '1' };
  const git = (...args: string[]) =>
    execFileSync('git', ['-c', 'user.name=A', '-c', 'user.email=a@b', ...args], { cwd: folder, env });
  git('init', '-q');
  git('add', '.');
  git('commit', '-q', '-m', 'A high loop');
  writeFileSync(path.join(folder, 'spring.spring'), lower);
  host = await startNodeHost(folder, base);
}, 900_000);
afterAll(async () => {
  await host?.stop();
  await browser?.close();
  rmSync(base, { recursive: true, force: true, maxRetries: 5 });
});

test('other extensions and tasks get the figures of the command line', { timeout: 300_000 }, async () => {
  const tests = path.join(base, 'tests');
  mkdirSync(tests);
  writeFileSync(
    path.join(tests, 'package.json'),
    JSON.stringify({ name: 'host-tests', publisher: 'tests', version: '0.0.1', engines: { vscode: '^1.91.0' } }),
  );
  await build({
    entryPoints: [path.join(import.meta.dirname, 'node-host', 'host-tests.ts')],
    outfile: path.join(tests, 'host-tests.js'),
    bundle: true,
    format: 'cjs',
    platform: 'node',
    external: ['vscode'],
  });
  const remote = (file: string) => `vscode-remote://${new URL(host.address).host}${file}`;
  const payload = [
    ['extensionDevelopmentPath', remote(tests)],
    ['extensionTestsPath', remote(path.join(tests, 'host-tests.js'))],
  ];
  const context = await browser.newContext();
  try {
    const page = await context.newPage();
    const said: string[] = [];
    let ended = (_code: number): void => {};
    const exit = new Promise<number>((resolve) => {
      ended = resolve;
    });
    await page.exposeFunction('codeAutomationLog', (_type: string, args: unknown[]) => said.push(args.join(' ')));
    await page.exposeFunction('codeAutomationExit', (code: number) => ended(code));
    await page.goto(`${host.address}&payload=${encodeURIComponent(JSON.stringify(payload))}`);
    const code = await Promise.race([exit, new Promise((resolve) => setTimeout(resolve, 200_000, 'no exit'))]);
    expect(said.join('\n')).toContain('3 passed, 0 failed');
    expect(code).toBe(0);
  } finally {
    await context.close();
  }
});

test.each(['light', 'dark'] as const)(
  'a file is compared with its last commit, in the %s theme',
  {
    timeout: 300_000,
  },
  async (theme) => {
    const workbench = await Workbench.open(browser, host.address, theme, 'node-host');
    const { page } = workbench;
    try {
      await workbench.openFile('spring.spring');
      await until(
        () => workbench.shownText(),
        (text) => text.includes('mm of wire'),
        'the hints',
      );
      await workbench.run('Springwright: Compare…');
      const choices = page.locator('.quick-input-list .monaco-list-row');
      await choices.filter({ hasText: 'A high loop' }).first().waitFor();
      await workbench.screenshot('revisions');
      await choices.filter({ hasText: 'Last Commit' }).click();
      const shown = workbench.preview;
      await shown.locator('.canvas.overlay > svg').waitFor();
      expect(await shown.locator('h1').textContent()).toBe('spring.spring at the last commit → spring.spring');
      const parameter = shown.getByRole('table', { name: 'Parameters' }).getByRole('row', { name: 'loop_height' });
      expect(await parameter.locator('td').allTextContents()).toEqual(['9 mm', '7 mm', '']);
      expect(await shown.locator('.verdict').textContent()).toBe('3 requirements not met any more');
      await workbench.screenshot('comparison');
      expect(workbench.policyViolations).toEqual([]);
    } finally {
      await workbench.screenshot('end');
      await workbench.close();
    }
  },
);
