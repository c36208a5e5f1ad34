/** Two files compared in a real browser, where there are no revisions: drawings, tables, and what the editor says of git. */
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser, type StartedHost, startHost, until, Workbench } from './workbench';

const examples = path.resolve(import.meta.dirname, '../../examples');
const [name, lower] = ['06-space-closing-spring.spring', 'lower.spring'];

let browser: Browser;
let folder: string;
let host: StartedHost;

beforeAll(async () => {
  browser = await launchBrowser();
  folder = await mkdtemp(path.join(tmpdir(), 'springwright-e2e-'));
  await cp(path.join(examples, name), path.join(folder, name));
  const text = await readFile(path.join(folder, name), 'utf8');
  await writeFile(path.join(folder, lower), text.replace('loop_height = 9 mm', 'loop_height = 7 mm'));
  host = await startHost(folder);
});
afterAll(async () => {
  await host?.stop();
  await browser?.close();
  await rm(folder, { recursive: true, force: true });
});

test.each(['light', 'dark'] as const)(
  'a file is compared with another one, in the %s theme',
  {
    timeout: 300_000,
  },
  async (theme) => {
    const workbench = await Workbench.open(browser, host.address, theme);
    const { page } = workbench;
    try {
      await workbench.openFile(lower);
      await workbench.run('Springwright: Compare…');
      const choices = page.locator('.quick-input-list .monaco-list-row');
      await choices.filter({ hasText: 'no git extension' }).waitFor();
      await workbench.screenshot('compare-choices');
      await choices.filter({ hasText: name }).click();

      const shown = workbench.preview;
      await shown.locator('.canvas.overlay > svg').waitFor();
      await until(
        () => shown.locator('h1').textContent(),
        (title) => title === `${name} → ${lower}`,
        'the names of both files',
      );
      const policy = await shown.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
      expect(policy).toMatch(/^default-src 'none'; script-src 'nonce-[0-9a-f]{32}'; style-src /);
      expect(policy).not.toContain('unsafe');
      const parameter = shown.getByRole('table', { name: 'Parameters' }).getByRole('row', { name: 'loop_height' });
      expect(await parameter.locator('td').allTextContents()).toEqual(['9 mm', '7 mm', '']);
      expect(await shown.locator('.verdict').textContent()).toBe('3 requirements not met any more');
      await workbench.screenshot('compare-overlay');

      await shown.getByRole('combobox', { name: 'Drawing' }).selectOption('beside');
      await shown.locator('.canvas.beside').waitFor({ state: 'visible' });
      expect(await shown.locator('.canvas.overlay').isVisible()).toBe(false);
      await shown.locator('summary', { hasText: 'At 1.5 mm' }).click();
      await workbench.screenshot('compare-beside');

      expect([...workbench.foreignOrigins]).toEqual([]);
      expect(workbench.policyViolations).toEqual([]);
      expect(workbench.exceptions).toEqual([]);
    } finally {
      await workbench.screenshot('compare-end');
      await workbench.close();
    }
  },
);
