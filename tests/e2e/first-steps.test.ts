/** What someone sees who has just installed the extension: the walkthrough, a first appliance, a snippet, the status. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser, type StartedHost, startHost, until, Workbench } from './workbench';

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
  'the walkthrough leads to a first appliance, in the %s theme',
  {
    timeout: 300_000,
  },
  async (theme) => {
    const workbench = await Workbench.openEmpty(browser, host.address, theme);
    const { page } = workbench;
    try {
      await workbench.run('Welcome: Open Walkthrough...');
      await page
        .locator('.quick-input-list .monaco-list-row', { hasText: 'Write a Wire and See What It Does' })
        .click();
      const started = page.locator('.gettingStartedContainer');
      await started.getByText('Write an appliance').first().waitFor();
      const image = started.locator('img').first();
      await until(
        () => image.evaluate((one) => (one as HTMLImageElement).naturalWidth),
        (width) => width > 0,
        'the picture of the first step',
      );
      await workbench.screenshot('walkthrough');

      await started.locator('.monaco-button', { hasText: 'New Appliance' }).last().click();
      await until(
        () => workbench.shownText(),
        (text) => text.includes('appliance tip_back_arm') && text.includes('mm of wire'),
        'the first appliance with its figures',
      );
      await page.locator('[id="status.languageStatus"]').first().click();
      await page.getByText('4 of 4 requirements met').first().waitFor();
      await workbench.screenshot('first-appliance');
      expect([...workbench.foreignOrigins]).toEqual([]);
      expect(workbench.exceptions).toEqual([]);
    } finally {
      await workbench.screenshot('first-steps-end');
      await workbench.close();
    }
  },
);
