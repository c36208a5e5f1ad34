/** The visits on the preview's page, in a real browser under the page's policy, without an editor round it. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fold, openPreviewPage, root } from './preview-page';
import { launchBrowser } from './workbench';

let browser: Browser;

beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

describe.each([
  ['light', 900],
  ['dark', 420],
] as const)('in the %s theme, %d pixels wide', (theme, width) => {
  test('visits are folded and not asked for, and then tell what is found and done', { timeout: 120_000 }, async () => {
    const { page, complaints, close } = await openPreviewPage(browser, '17-visits.spring', theme, width);
    try {
      const visits = fold(page, 'Visits');
      expect(await visits.getAttribute('open')).toBeNull();
      expect(await visits.locator('table').count()).toBe(0);
      expect(await page.locator('.tooth-group').count()).toBe(2);
      await visits.locator('summary').focus();
      await page.keyboard.press('Enter');
      await visits.locator('table').first().waitFor();
      const [first] = await visits.locator('table').all();
      const done = await first.locator('tbody tr td:last-child').allTextContents();
      expect(done[0]).toBe('engage and activate by 2.5 mm');
      expect(done.at(-1)).toBe('end');
      expect(done.some((words) => words.startsWith('draw'))).toBe(true);
      const charts = visits.locator('svg.springwright-chart');
      expect(await charts.count()).toBe(4);
      // A mark on the axis for every visit, filled where the wire is activated.
      expect(await charts.first().locator('.visit').count()).toBe(done.length);
      expect(await charts.first().locator('.visit.active').count()).toBe(
        done.filter((words) => /^(engage and activate|draw)/.test(words)).length,
      );
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      expect(complaints).toEqual([]);
      mkdirSync(join(root, 'tests/output'), { recursive: true });
      await page.screenshot({ path: join(root, `tests/output/visits-${theme}.png`), fullPage: true });
    } finally {
      await close();
    }
  });
});

test('an appliance without visits has no such fold', { timeout: 120_000 }, async () => {
  const { page, close } = await openPreviewPage(browser, '03-t-loop.spring', 'light', 700);
  try {
    expect(await fold(page, 'Visits').isHidden()).toBe(true);
  } finally {
    await close();
  }
});
