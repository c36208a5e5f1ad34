/** The bending plan on the preview's page, in a real browser under the page's policy, without an editor round it. */
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
  test('the plan is folded and not asked for, and the keyboard unfolds and scrolls it', {
    timeout: 120_000,
  }, async () => {
    const { page, complaints, plansAsked, close } = await openPreviewPage(browser, '03-t-loop.spring', theme, width);
    try {
      const plan = fold(page, 'Bending plan');
      expect(await plan.getAttribute('open')).toBeNull();
      expect((await plansAsked()).some((plan) => plan)).toBe(false);
      expect(await plan.locator('table').count()).toBe(0);

      await plan.locator('summary').focus();
      await page.keyboard.press('Enter');
      await plan.locator('tbody tr').nth(9).waitFor();
      expect(await plan.locator('tbody tr').count()).toBe(10);
      expect(await plan.locator('thead th[scope="col"]').count()).toBe(13);
      expect(await plan.locator('tbody th[scope="row"]').allTextContents()).toEqual(
        Array.from({ length: 10 }, (_, k) => String(k + 1)),
      );
      expect(await plan.locator('.steps svg[role="img"]').count()).toBe(10);
      // Nothing is wider than the page but what scrolls in itself, and that the keyboard reaches.
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      await page.keyboard.press('Tab');
      expect(await page.evaluate('document.activeElement.getAttribute("aria-label")')).toBe('Bends along the wire');
      expect(complaints).toEqual([]);
      const output = join(root, 'tests/output');
      mkdirSync(output, { recursive: true });
      await page.screenshot({ path: join(output, `${theme}-bending-plan.png`), fullPage: true });

      await plan.locator('summary').focus();
      await page.keyboard.press('Enter');
      await plan.locator('table').waitFor({ state: 'detached' });
    } finally {
      await close();
    }
  });
});
