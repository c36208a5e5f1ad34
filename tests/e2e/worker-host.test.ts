/** The whole way in a real browser: what `npm start` serves, with the extension in a web worker's extension host. */
import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, FrameLocator } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { vBend } from '../features/samples';
import { launchBrowser, place, type StartedHost, startHost, until, Workbench } from './workbench';

const examples = path.resolve(import.meta.dirname, '../../examples');
const example = '06-space-closing-spring.spring';
const anotherExample = '02-open-vertical-loop.spring';
/** The height of the loop, and what it becomes: a lower loop is stiffer. */
const edit = { before: '= 9 mm', after: '= 8 mm' };

/** The requirement's hint: what the force comes to, in gf. */
const forceHint = /canine\.force\.distal\s+in 100 gf \.\. 150 gf\s*[✓✗]\s*([\d.]+) gf/;

let browser: Browser;
let base: string;
let host: StartedHost;

beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

beforeEach(async () => {
  base = await mkdtemp(path.join(tmpdir(), 'springwright-e2e-'));
  await cp(examples, path.join(base, 'examples'), { recursive: true });
  host = await startHost(path.join(base, 'examples'));
});
afterEach(async () => {
  await host?.stop();
  await rm(base, { recursive: true, force: true });
});

describe.each(['light', 'dark'] as const)('in the %s theme', (theme) => {
  test('an example shows hints and a preview, and an edit changes both and is saved', {
    timeout: 300_000,
  }, async () => {
    const workbench = await Workbench.open(browser, host.address, theme);
    try {
      await workbench.openFile(example);
      const before = await hintedForce(workbench, (force) => force !== undefined);
      await workbench.screenshot('editor');

      const preview = await workbench.openPreview();
      const policy = await preview.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
      expect(policy).toMatch(/^default-src 'none'; script-src 'nonce-[0-9a-f]{32}'; style-src /);
      expect(policy).not.toContain('unsafe');
      const box = await preview.locator('.canvas svg').boundingBox();
      expect(box?.width).toBeGreaterThan(200);
      expect(box?.height).toBeGreaterThan(100);
      const drawingBefore = await drawing(preview);
      expect(await distalForce(preview)).toBe(`${before} gf`);
      await workbench.screenshot('preview');

      const file = path.join(base, 'examples', example);
      const { line, column } = place(await readFile(file, 'utf8'), edit.before);
      await workbench.typeOver(line, column, edit.before.length, edit.after);
      const after = await hintedForce(workbench, (force) => force !== undefined && force !== before);
      expect(Number(after)).toBeGreaterThan(Number(before));
      await until(
        () => distalForce(preview),
        (force) => force === `${after} gf`,
        'the same force in the preview as in the hint',
      );
      expect(await drawing(preview)).not.toBe(drawingBefore);
      await workbench.screenshot('edited');

      await workbench.save();
      await until(
        () => readFile(file, 'utf8'),
        (text) => text.includes(edit.after) && !text.includes(edit.before),
        'the edit on disk',
      );

      expect([...workbench.foreignOrigins]).toEqual([]);
      expect(workbench.policyViolations).toEqual([]);
      expect(workbench.exceptions).toEqual([]);
    } finally {
      await workbench.screenshot('end');
      await workbench.close();
    }
  });
});

test('the slider sets the activation, by keyboard too, and the choice outlives hiding the preview', {
  timeout: 300_000,
}, async () => {
  const workbench = await Workbench.open(browser, host.address, 'light');
  try {
    await workbench.openFile(example);
    const preview = await workbench.openPreview();
    const slider = preview.getByRole('slider', { name: 'Activation' });
    const number = preview.getByRole('spinbutton', { name: 'Activation in millimetres from neutral' });
    const working = await slider.inputValue();
    const before = await figures(preview);

    await slider.press('End');
    const largest = await slider.getAttribute('max');
    expect(await slider.inputValue()).toBe(largest);
    const atTheEnd = await until(
      () => figures(preview),
      (now) => now !== before,
      'the figures at the end of the range',
    );
    expect(await number.inputValue()).toBe(largest);

    // Another file in front of the preview takes its page away; behind it the preview follows that file.
    await workbench.previewTab.click();
    await workbench.openFile(anotherExample);
    await workbench.previewTab.click();
    await until(
      () => shownFile(preview),
      (name) => name === anotherExample,
      'the preview of the other file',
    );
    await workbench.tab(example).click();
    await until(
      () => shownFile(preview),
      (name) => name === example,
      'the preview of the first file',
    );
    await until(
      () => figures(preview),
      (now) => now === atTheEnd,
      'the figures at the activation chosen before',
    );

    expect(await preview.locator('.canvas .wire.passive').count()).toBe(0);
    await preview.getByRole('checkbox', { name: 'Passive' }).check();
    await preview.locator('.canvas .wire.passive').first().waitFor({ state: 'attached' });

    await preview.getByRole('button', { name: 'Back to the working activation' }).click();
    await until(
      () => slider.inputValue(),
      (now) => now === working,
      'the working activation',
    );
    await until(
      () => figures(preview),
      (now) => now === before,
      'the figures at the working activation',
    );

    // With bands: the figure stays, and where about 19 of 20 wires lie comes beside it.
    const force = await distalForce(preview);
    await preview.getByRole('checkbox', { name: 'Bands' }).check();
    const spread = await until(
      () => distalForce(preview),
      (now) => now !== force,
      'the band of the force on the canine',
    );
    expect(spread).toMatch(/^[\d.]+ gf \([\d.]+ \.\. [\d.]+\)$/);
    expect(spread?.startsWith(`${force} (`)).toBe(true);
    await preview.getByRole('checkbox', { name: 'Bands' }).uncheck();
    await until(
      () => figures(preview),
      (now) => now === before,
      'the figures without bands',
    );
    expect(workbench.policyViolations).toEqual([]);
  } finally {
    await workbench.screenshot('slider');
    await workbench.close();
  }
});

test("a folder's settings choose the unit, and a bundled part opens as text beside the preview of the design", {
  timeout: 300_000,
}, async () => {
  const settings = path.join(base, 'examples', '.vscode', 'settings.json');
  await mkdir(path.dirname(settings));
  await writeFile(settings, JSON.stringify({ 'springwright.units.force': 'N', 'springwright.hints.lengths': false }));
  const workbench = await Workbench.open(browser, host.address, 'light');
  try {
    await workbench.openFile(example);
    const text = await until(
      () => workbench.shownText(),
      (shown) => /150 gf\s*[✓✗]\s*[\d.]+ N/.test(shown),
      'a hint in newton',
    );
    expect(text).not.toContain('mm of wire');

    const preview = await workbench.openPreview();
    const { line, column } = place(await readFile(path.join(base, 'examples', example), 'utf8'), 'closed_loop(');
    await workbench.goTo(line, column);
    await workbench.page.keyboard.press('F12');
    await workbench.tab('loops.spring').waitFor();
    await until(
      () => workbench.shownText(),
      (shown) => shown.includes('part closed_loop('),
      'the text of the bundled part',
    );
    expect(await shownFile(preview)).toBe(example);
  } finally {
    await workbench.screenshot('library');
    await workbench.close();
  }
});

test('the line above an appliance tells its force system and opens the preview on it; a rename changes every use, and formatting lays a line out again', {
  timeout: 300_000,
}, async () => {
  const name = 'two-appliances.spring';
  const second = vBend.slice(vBend.indexOf('/// A span')).replace('appliance v_bend', 'appliance second');
  await writeFile(path.join(base, 'examples', name), `${vBend}\n${second}`);
  const workbench = await Workbench.open(browser, host.address, 'light');
  try {
    await workbench.openFile(name);
    const lens = workbench.page.locator('.codelens-decoration a', { hasText: 'engaged: molar' });
    await lens.last().waitFor();
    const place2 = place(`${vBend}\n${second}`, 'appliance second');
    await workbench.goTo(place2.line, place2.column);
    await lens.last().click();
    const preview = workbench.preview;
    await until(
      () => preview.getByRole('combobox', { name: 'Appliance' }).inputValue(),
      (shown) => shown === 'second',
      'the preview of the second appliance',
    );

    const use = place(vBend, 'straight far');
    await workbench.tab(name).click();
    await workbench.goTo(use.line, use.column + 'straight '.length);
    await workbench.page.keyboard.press('F2');
    await workbench.page.locator('.rename-box input:focus').waitFor();
    await workbench.page.keyboard.type('rest_of_it', { delay: 60 });
    await workbench.page.keyboard.press('Enter');
    await until(
      () => workbench.shownText(),
      (text) => /let rest_of_it = 20 mm/.test(text) && /straight rest_of_it/.test(text),
      'the new name at its definition and its use',
    );

    await workbench.typeOver(use.line, use.column + 'straight'.length, 1, '     ');
    await until(
      () => workbench.shownText(),
      (text) => /straight {5}rest_of_it/.test(text),
      'the line with too many blanks',
    );
    await workbench.run('Format Document');
    await until(
      () => workbench.shownText(),
      (text) => /straight rest_of_it/.test(text),
      'the line as it is laid out',
    );
    expect(workbench.exceptions).toEqual([]);
  } finally {
    await workbench.screenshot('names');
    await workbench.close();
  }
});

const drawing = (preview: FrameLocator) => preview.locator('.canvas').innerHTML();

const figures = async (preview: FrameLocator) => (await preview.locator('.readouts').allTextContents()).join();

const shownFile = (preview: FrameLocator) => preview.locator('.file').textContent();

/** The force on the canine as the hint at its requirement says it. */
async function hintedForce(workbench: Workbench, condition: (force: string | undefined) => boolean) {
  const read = async () => forceHint.exec(await workbench.shownText())?.[1];
  return until(read, condition, 'a hint with the force on the canine');
}

/** The same as the preview's table says it, with its unit; the figures are folded away at first. */
async function distalForce(preview: FrameLocator) {
  const folded = preview.locator('details:not([open]) > summary', { hasText: 'Figures' });
  if ((await folded.count()) > 0) await folded.click();
  return preview
    .getByRole('table', { name: 'canine' })
    .getByRole('row', { name: 'force distal' })
    .locator('.value')
    .textContent();
}
