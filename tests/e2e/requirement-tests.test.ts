/** The Testing view in a real browser: requirements are listed, checked on demand and at every save, and tell their figures. */
import { cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser, place, type StartedHost, startHost, until, Workbench } from './workbench';

const examples = path.resolve(import.meta.dirname, '../../examples');
const name = '06-space-closing-spring.spring';

/** Of the force that is missed then, at its line. */
const hint = /150 gf\s*✗\s*([\d.]+) gf/;

let browser: Browser;
let folder: string;
let host: StartedHost;

beforeAll(async () => {
  browser = await launchBrowser();
  folder = await mkdtemp(path.join(tmpdir(), 'springwright-e2e-'));
  host = await startHost(folder);
});
afterAll(async () => {
  await host?.stop();
  await browser?.close();
  await rm(folder, { recursive: true, force: true });
});

test.each(['light', 'dark'] as const)(
  'requirements are tests, in the %s theme',
  { timeout: 300_000 },
  async (theme) => {
    await cp(path.join(examples, name), path.join(folder, name));
    const workbench = await Workbench.open(browser, host.address, theme);
    const { page } = workbench;
    try {
      await workbench.openFile(name);
      await until(
        () => workbench.shownText(),
        (text) => /gf \.\. 150 gf\s*✓/.test(text),
        'the hints',
      );
      await page.getByRole('tab', { name: 'Testing' }).click();
      const row = page.locator('.test-explorer-tree .monaco-list-row');
      await row.filter({ hasText: name }).waitFor();

      await page.getByRole('button', { name: 'Run Tests' }).first().click();
      const passed = page.locator('.test-explorer').getByText(/^\d+\/\d+$/);
      await until(
        () => passed.textContent(),
        (text) => text === '5/5',
        'five requirements that are met',
      );
      await workbench.screenshot('requirements');

      // From now on at every save: a lower loop is too stiff for what is asked of the force.
      await page.getByRole('button', { name: 'Start Continuous Run' }).first().click();
      const file = path.join(folder, name);
      const { line, column } = place(await readFile(file, 'utf8'), '= 9 mm');
      await workbench.typeOver(line, column, '= 9 mm'.length, '= 7 mm');
      await workbench.save();
      await until(
        () => passed.textContent(),
        (text) => text !== '5/5' && /^\d\/5$/.test(text ?? ''),
        'a requirement that is missed after the save',
      );
      const condition = place(await readFile(file, 'utf8'), 'canine.force.distal in');
      await workbench.goTo(condition.line, condition.column);
      const shown = await until(
        () => workbench.shownText(),
        (text) => hint.test(text),
        'the hint of the force that is missed',
      );
      await row.first().click();
      for (const key of ['ArrowRight', 'ArrowRight', 'ArrowRight', 'ArrowRight']) await page.keyboard.press(key);
      const missed = row.filter({ hasText: 'canine.force.distal in 100 gf' });
      await missed.waitFor();
      expect(await missed.textContent()).toMatch(/at 1\.5 mm: [\d.]+ gf, [\d.]+ gf outside/);
      expect(await missed.textContent()).toContain(` ${hint.exec(shown)![1]} gf,`);
      await missed.dblclick();
      await workbench.screenshot('requirements-missed');
      expect(workbench.exceptions).toEqual([]);
    } finally {
      await workbench.screenshot('requirements-end');
      await workbench.close();
    }
  },
);
