/** A handout as a student opens it: a file in a browser, without a server or a network. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildCommand, type Command } from '../cli/command';
import { root } from './preview-page';
import { launchBrowser } from './workbench';

let browser: Browser;
let command: Command;
beforeAll(async () => {
  [browser, command] = await Promise.all([launchBrowser(), buildCommand('handout')]);
});
afterAll(async () => {
  await browser?.close();
  command?.remove();
});

const parts = `part arm(rise = 15 deg) {
  straight 6 mm
  preactivate rise toward gingival
  straight 6 mm
}
`;
const lesson = `use "alloys"
use "./parts.spring"
/// </script> in a comment ends no script.
appliance lesson {
  wire 0.016 in x 0.022 in of steel stress relieved
  param rise = 5 deg in 0 deg .. 10 deg
  path running mesial {
    straight 4 mm
    seat molar
    arm(rise = rise)
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation move canine gingival 0 mm .. 0.5 mm step 0.25 mm
}
`;

test('computes and draws by itself, with the modules it uses', { timeout: 120_000 }, async () => {
  command.write('parts.spring', parts);
  command.write('lesson.spring', lesson);
  const { code, err } = command.run('handout', 'lesson.spring', '-o', 'lesson.html');
  expect([code, err]).toEqual([0, '']);
  const page = await browser.newPage();
  const complaints: string[] = [];
  const asked: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', ({ message }) => complaints.push(message));
  page.on('request', (request) => asked.push(request.url()));
  try {
    const address = pathToFileURL(join(command.folder, 'lesson.html')).href;
    await page.goto(address);
    await page.locator('.canvas svg').waitFor();
    expect(await page.locator('h1').textContent()).toBe('lesson');
    const before = await page.locator('.readouts').textContent();
    await page.locator('#parameter-rise').focus();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.locator('.readouts').textContent()).not.toBe(before);
    await page.locator('summary', { hasText: 'Charts' }).click();
    await page.locator('.charts svg').first().waitFor();
    expect(complaints).toEqual([]);
    // Nothing but the page itself.
    expect(asked).toEqual([address]);
    writeFileSync(join(root, 'tests/output/handout.png'), await page.screenshot({ fullPage: true }));
  } finally {
    await page.close();
  }
});

test('is refused where there is nothing to show', () => {
  command.write('parts.spring', parts);
  command.write('broken.spring', lesson.replace('straight 4 mm', 'straight 4 deg'));
  const { code, err } = command.run('handout', 'broken.spring');
  expect(code).toBe(1);
  // At its place, as `check` says it.
  expect(err).toMatch(/^broken\.spring:\d+:\d+: error: .*"4 deg" is an angle.* \[unit-mismatch\]\n$/);
});
