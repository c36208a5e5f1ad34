/** Charts, sliders and accessibility of the preview's page, in a real browser and in four themes. */
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fold, MISSING, openPreviewPage, root, type Theme } from './preview-page';
import { launchBrowser } from './workbench';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const busiest = '06-space-closing-spring.spring';
const timeout = 120_000;

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

/** What the checker of accessibility finds. */
async function violations(page: Page) {
  await page.evaluate(axe);
  const found = (await page.evaluate('axe.run()')) as {
    violations: { id: string; nodes: { html: string; failureSummary: string }[] }[];
  };
  return found.violations.map(({ id, nodes }) => [
    id,
    nodes.map((node) => `${node.html.slice(0, 120)} ${node.failureSummary}`),
  ]);
}

describe.each([
  ['light', 900],
  ['dark', 900],
  ['high-contrast', 700],
  ['high-contrast-light', 700],
] as readonly (readonly [Theme, number])[])('in the %s theme', (theme, width) => {
  test('a checker of accessibility finds nothing, with everything unfolded', { timeout }, async () => {
    const { page, complaints, close } = await openPreviewPage(browser, busiest, theme, width);
    try {
      for (const name of ['Charts', 'Figures', 'Bending plan']) await fold(page, name).locator('summary').click();
      await page.locator('.charts svg').nth(4).waitFor();
      await fold(page, 'Bending plan').locator('tbody tr').first().waitFor();
      for (const name of ['Stress', 'Dimensions', 'Handles', 'Second view'])
        await page.getByRole('checkbox', { name }).check();
      await page.locator('.canvas .stress').first().waitFor();
      await page.locator('.canvas .view.occlusal').waitFor();
      await page.locator('.grip').nth(3).waitFor();
      const output = join(root, 'tests/output');
      mkdirSync(output, { recursive: true });
      await page.screenshot({ path: join(output, `${theme}-preview-page.png`), fullPage: true });
      expect(complaints).toEqual([]);
      expect(await violations(page)).toEqual([]);
    } finally {
      await close();
    }
  });
});

test('charts are folded and not asked for; a click in one of them sets the activation of all', {
  timeout,
}, async () => {
  const { page, complaints, close } = await openPreviewPage(browser, busiest, 'light', 900);
  try {
    expect(await page.locator('.charts svg').count()).toBe(0);
    await fold(page, 'Charts').locator('summary').click();
    const charts = page.locator('.charts svg');
    await charts.nth(4).waitFor();
    const cursors = async () => {
      const paths = await page
        .locator('.charts .cursor')
        .evaluateAll((all) => all.map((one) => one.getAttribute('d')!));
      return [...new Set(paths.map((d) => Number(/M([\d.]+)/.exec(d)![1])))];
    };
    const [before] = await cursors();
    const box = (await charts.first().boundingBox())!;
    const [left, right] = (await charts.first().getAttribute('data-sides'))!.split(' ').map(Number);
    const canvas = Number((await charts.first().getAttribute('viewBox'))!.split(' ')[2]);
    // A quarter along the activation, 0 to 2 mm.
    const place = left + (right - left) / 4;
    await page.mouse.click(box.x + (place / canvas) * box.width, box.y + box.height / 2);
    // Whole pixels of the mouse, and activations of a hundredth of a millimetre: a pixel of the canvas each.
    await expect.poll(async () => Math.abs((await cursors())[0] - place)).toBeLessThan(2);
    expect(await cursors()).toHaveLength(1);
    expect(before).not.toBe((await cursors())[0]);
    expect(Number(await page.locator('#activation').inputValue())).toBeCloseTo(0.5, 1);
    expect(complaints).toEqual([]);
  } finally {
    await close();
  }
});

test('a parameter is tried out while its slider moves and written once, as one edit', { timeout }, async () => {
  const { page, complaints, close, text, edits } = await openPreviewPage(browser, busiest, 'light', 900);
  try {
    const slider = page.locator('#parameter-gable');
    expect(await slider.inputValue()).toBe('15');
    const figure = page.locator('.readouts');
    const before = await figure.textContent();
    const { x, y, width, height } = (await slider.boundingBox())!;
    await page.mouse.move(x + width / 2, y + height / 2);
    await page.mouse.down();
    for (let part = 0.5; part < 0.7; part += 0.02) await page.mouse.move(x + part * width, y + height / 2);
    // Shown while it is still held, and not in the text yet.
    await expect.poll(() => figure.textContent()).not.toBe(before);
    expect(edits()).toBe(0);
    await page.mouse.up();
    await expect.poll(edits).toBe(1);
    const written = /param gable = ([\d.]+) deg in 0 deg/.exec(text())?.[1];
    expect(Number(written)).toBeGreaterThan(17);
    await expect.poll(() => slider.inputValue()).toBe(written);
    expect(complaints).toEqual([]);
  } finally {
    await close();
  }
});

test('a handle is dragged along with the wire and written once, as one edit', { timeout }, async () => {
  const { page, complaints, close, text, edits } = await openPreviewPage(browser, busiest, 'light', 900);
  try {
    expect(await page.locator('.grip').count()).toBe(0);
    await page.getByRole('checkbox', { name: 'Handles' }).check();
    const grip = page.getByRole('slider', { name: 'loop_height, length in the drawing' });
    const middle = async () => {
      const { x, y, width, height } = (await grip.boundingBox())!;
      return { x: x + width / 2, y: y + height / 2 };
    };
    const from = await middle();
    const canvas = (await page.locator('.canvas').boundingBox())!;
    const scale = Number(await page.locator('.canvas svg').getAttribute('data-scale'));
    const [, , width] = (await page.locator('.canvas svg').getAttribute('viewBox'))!.split(' ').map(Number);
    const perMillimetre = (scale * canvas.width) / width;
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x, from.y - 0.6 * perMillimetre, { steps: 6 });
    // Shown while it is still held, under the pointer, and not in the text yet.
    await expect.poll(async () => (await middle()).y).toBeLessThan(from.y - 0.4 * perMillimetre);
    await page.waitForTimeout(500);
    expect(Math.abs((await middle()).y - (from.y - 0.6 * perMillimetre))).toBeLessThan(0.1 * perMillimetre);
    expect(edits()).toBe(0);
    expect(await page.locator('#parameter-loop_height').inputValue()).toBe(await grip.getAttribute('aria-valuenow'));
    await page.mouse.up();
    await expect.poll(edits).toBe(1);
    const written = Number(/param loop_height = ([\d.]+) mm in 6 mm/.exec(text())?.[1]);
    // The leg leans a little: what is dragged straight up is a little less along it.
    expect(written).toBeGreaterThan(9.5);
    expect(written).toBeLessThanOrEqual(9.6);
    await expect.poll(() => grip.getAttribute('aria-valuetext')).toBe(`${written} mm`);
    expect(complaints).toEqual([]);
  } finally {
    await close();
  }
});

test('a handle follows the keyboard, and Escape gives up what is not written yet', { timeout }, async () => {
  const { page, complaints, close, text, edits } = await openPreviewPage(browser, busiest, 'light', 900);
  try {
    await page.getByRole('checkbox', { name: 'Handles' }).check();
    const grip = page.getByRole('slider', { name: 'tip_back, angle in the drawing' });
    await grip.focus();
    expect(await grip.getAttribute('aria-valuetext')).toBe('22 deg');
    const before = await page.locator('.handle[data-parameter="tip_back"]').getAttribute('data-at');
    // In one go: on a busy machine keys of the test's own would come as slowly as to be edits of their own.
    const press = (...keys: string[]) =>
      grip.evaluate((one, all) => {
        for (const key of all)
          one.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
      }, keys);
    await press('ArrowUp', 'ArrowUp', 'ArrowLeft', 'PageUp');
    await expect.poll(edits).toBe(1);
    // Steps of 0.2 deg.
    expect(text()).toContain('param tip_back = 24.2 deg in');
    const handle = page.locator('.handle[data-parameter="tip_back"]');
    await expect.poll(() => handle.getAttribute('data-at')).not.toBe(before);
    await page.waitForTimeout(400);
    await press('End', 'Escape');
    await expect.poll(() => grip.getAttribute('aria-valuetext')).toBe('24.2 deg');
    await page.waitForTimeout(400);
    expect(edits()).toBe(1);
    // Still where the keyboard was, though the drawing is another by now.
    expect(await grip.evaluate((one) => one === document.activeElement)).toBe(true);
    expect(complaints).toEqual([]);
  } finally {
    await close();
  }
});

test('a stretch of wire leads to its line, and the cursor in a line marks its stretch', { timeout }, async () => {
  const { page, complaints, close, text } = await openPreviewPage(browser, busiest, 'light', 900);
  try {
    await page.locator('.view.buccal .step.preactivate').first().dispatchEvent('click');
    await expect.poll(() => page.evaluate('window.revealed')).toBeTruthy();
    const [start, end] = (await page.evaluate('window.revealed')) as [number, number];
    expect(text().slice(start, end)).toBe('preactivate tip_back toward gingival');
    await page.evaluate(`window.postMessage({ type: 'cursor', uri: 'file:///${busiest}', offset: ${start + 3} }, '*')`);
    await expect.poll(() => page.locator('.view.buccal .step.chosen').count()).toBe(1);
    expect(Number(await page.locator('.view.buccal .step.chosen').getAttribute('data-start'))).toBe(start);
    expect(complaints).toEqual([]);
  } finally {
    await close();
  }
});

test('the keyboard goes along the wire and finds the line of a stretch', { timeout }, async () => {
  const { page, complaints, close, text } = await openPreviewPage(browser, busiest, 'light', 900);
  try {
    await page.locator('.canvas').focus();
    for (let k = 0; k < 3; k++) await page.keyboard.press('ArrowRight');
    const told = await page.locator('.drawing > [role="status"]').textContent();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate('window.revealed')).toBeTruthy();
    const [start, end] = (await page.evaluate('window.revealed')) as [number, number];
    // The wire's third item with a length of its own, after the straight piece before the tube and the one behind it.
    expect(text().slice(start, end)).toBe('preactivate tip_back toward gingival');
    expect(told).toMatch(/^preactivate 22\u202f?.?deg, [\d.]+.mm of wire$/);
    expect(complaints).toEqual([]);
  } finally {
    await close();
  }
});

test.each([
  ['is missing', MISSING, /cannot be read \(status 404\)/],
  ['fails', 'throw new Error("no memory")', /no memory/],
])('says so where what computes %s', { timeout }, async (_, engine, reason) => {
  const { page, close } = await openPreviewPage(browser, busiest, 'light', 900, undefined, {
    engine,
    drawn: '.notice:not([hidden])',
  });
  try {
    const told = await page.locator('.notice').textContent();
    expect(told).toMatch(/^What computes the preview cannot be started: .*\. Close the preview and open it again\.$/);
    expect(told).toMatch(reason);
  } finally {
    await close();
  }
});

describe('several appliances of a file', () => {
  const several = `${readFileSync(join(root, 'examples', busiest), 'utf8')}
variant low of space_closing_spring { loop_height = 6.5 mm }
variant strong_gable of space_closing_spring { gable = 28 deg }
`;

  test.each([
    ['light', 'One over the other'],
    ['dark', 'Side by side'],
    ['high-contrast', 'One over the other'],
    ['high-contrast-light', 'Side by side'],
  ] as const)('in the %s theme, %s: a checker of accessibility finds nothing', { timeout }, async (theme, layout) => {
    const { page, complaints, close } = await openPreviewPage(browser, busiest, theme, 900, several);
    try {
      await fold(page, 'Compare').locator('summary').click();
      for (const name of ['low', 'strong_gable']) await page.getByRole('checkbox', { name, exact: true }).check();
      await page.getByRole('radio', { name: layout }).check();
      await page.getByRole('checkbox', { name: 'Handles' }).check();
      await page.locator('.comparison thead th').nth(2).waitFor();
      await page.locator('.grip').nth(2).waitFor();
      const output = join(root, 'tests/output');
      mkdirSync(output, { recursive: true });
      await page.screenshot({ path: join(output, `${theme}-compared.png`), fullPage: true });
      expect(complaints).toEqual([]);
      expect(await violations(page)).toEqual([]);
    } finally {
      await close();
    }
  });

  test('are chosen, laid over or side by side, each with its figures, and stay so over a reload', {
    timeout,
  }, async () => {
    const { page, complaints, close } = await openPreviewPage(browser, busiest, 'light', 900, several);
    const compare = page.locator('details.compare');
    const headings = () => page.locator('.comparison thead th').allTextContents();
    const drawings = () => page.locator('.canvas > svg > svg').count();
    try {
      expect(await page.locator('.comparison').isVisible()).toBe(false);
      await compare.locator('summary').click();
      expect(await compare.getByRole('radio').first().isVisible()).toBe(false);
      for (const name of ['low', 'strong_gable']) await compare.getByRole('checkbox', { name }).check();
      await expect.poll(headings).toEqual(['space_closing_spring', '1 low', '2 strong_gable']);
      expect(await page.locator('.canvas .view .compared').count()).toBe(2);
      await compare.getByRole('radio', { name: 'Side by side' }).check();
      await expect.poll(drawings).toBe(3);
      expect(await headings()).toEqual(['space_closing_spring', 'low', 'strong_gable']);
      const force = page.locator('.comparison tr', { hasText: 'canine force' }).locator('td');
      const [own, low] = await force.allTextContents();
      expect(own).toContain('122 gf distal');
      expect(low).not.toBe(own);

      await page.reload();
      // What computes has to start again, too.
      await expect.poll(drawings, { timeout: 20_000 }).toBe(3);
      expect(await headings()).toEqual(['space_closing_spring', 'low', 'strong_gable']);
      expect(await compare.getByRole('radio', { name: 'Side by side' }).isChecked()).toBe(true);
      await compare.getByRole('checkbox', { name: 'low' }).uncheck();
      await expect.poll(drawings).toBe(2);
      // The one that is shown is not to be compared with itself.
      await page.getByRole('combobox', { name: 'Appliance' }).selectOption('strong_gable');
      await expect.poll(() => page.locator('.comparison').isVisible()).toBe(false);
      expect(await compare.getByRole('checkbox').count()).toBe(2);
      expect(complaints).toEqual([]);
    } finally {
      await close();
    }
  });
});

test('what was chosen outlives a reload', { timeout }, async () => {
  const { page, complaints, close } = await openPreviewPage(browser, busiest, 'light', 900);
  try {
    await page.getByRole('checkbox', { name: 'Passive' }).check();
    await fold(page, 'Charts').locator('summary').click();
    await page.getByRole('button', { name: 'Larger' }).click();
    const activation = page.getByRole('spinbutton', { name: 'Activation in millimetres from neutral' });
    await activation.fill('0.8');
    await page.locator('.canvas .view .wire.passive').first().waitFor();
    const box = await page.locator('.canvas svg').getAttribute('viewBox');

    await page.reload();
    await page.locator('.canvas .view .wire.passive').first().waitFor();
    await page.locator('.charts svg').nth(4).waitFor();
    expect(await activation.inputValue()).toBe('0.8');
    expect(await page.locator('.canvas svg title').first().textContent()).toContain('at 0.8 mm');
    expect(await page.locator('.canvas svg').getAttribute('viewBox')).toBe(box);
    expect(await fold(page, 'Figures').getAttribute('open')).toBeNull();
    expect(complaints).toEqual([]);
  } finally {
    await close();
  }
});

test('a closer look stays while the drawing changes, and the keyboard has it too', { timeout }, async () => {
  const { page, complaints, close } = await openPreviewPage(browser, busiest, 'light', 900);
  try {
    const box = async () => (await page.locator('.canvas svg').getAttribute('viewBox'))!.split(' ').map(Number);
    const whole = await box();
    await page.getByRole('button', { name: 'Larger' }).focus();
    await page.keyboard.press('Enter');
    await expect.poll(async () => whole[2] / (await box())[2]).toBeCloseTo(1.5, 2);
    // About the middle.
    const closer = await box();
    expect(closer[0] + closer[2] / 2).toBeCloseTo(whole[2] / 2, 0);
    // A drag moves it with the hand.
    const canvas = (await page.locator('.canvas').boundingBox())!;
    await page.mouse.move(canvas.x + 300, canvas.y + 150);
    await page.mouse.down();
    await page.mouse.move(canvas.x + 340, canvas.y + 150, { steps: 4 });
    await page.mouse.up();
    const moved = await box();
    expect(closer[0] - moved[0]).toBeCloseTo((40 / canvas.width) * closer[2], 0);
    await page.locator('#activation').focus();
    await page.keyboard.press('ArrowRight');
    await page.waitForTimeout(400);
    expect(await box()).toEqual(moved);
    await page.getByRole('button', { name: 'Show the whole drawing' }).click();
    await expect.poll(box).toEqual(whole);
    expect(complaints).toEqual([]);
  } finally {
    await close();
  }
});
