/**
 * The preview in the editor that `npm start` serves: from a movement of the activation's slider, and from a key pressed in the text, to
 * the page with its new drawing, by the browser's own clock. Everything on the way counts: extension host, server, messages.
 */
import { cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Frame } from 'playwright-core';
import { launchBrowser, startHost, Workbench } from '../e2e/workbench';

/** ms, one frame of a usual screen */
const goal = 16.7;
const root = resolve(import.meta.dirname, '../..');
const examples: readonly (readonly [string, string])[] = [
  ['03-t-loop.spring', 'param gable = 24'],
  ['06-space-closing-spring.spring', 'param gable = 15'],
];

/** Source of a function for the page. */
const nextDrawing = `const nextDrawing = () => new Promise((done) => {
  const watcher = new MutationObserver(() => { watcher.disconnect(); done(); });
  watcher.observe(document.querySelector('.canvas'), { childList: true });
});`;

const base = await mkdtemp(join(tmpdir(), 'springwright-bench-'));
await cp(join(root, 'examples'), base, { recursive: true });
const host = await startHost(base);
const browser = await launchBrowser();
try {
  for (const [name, parameter] of examples) {
    const workbench = await Workbench.open(browser, host.address, 'light');
    await workbench.openFile(name);
    const preview = await workbench.openPreview();
    const frame = (await (await preview.locator('body').elementHandle())!.ownerFrame())!;
    // Hints and what a trial activation would change come first.
    await workbench.page.waitForTimeout(5_000);
    print(`${name}: slider to drawing`, (await slide(frame)).slice(10));
    print(`${name}: keystroke to drawing`, (await type(workbench, frame, name, parameter)).slice(10));
    await workbench.close();
  }
} finally {
  await browser.close();
  await host.stop();
  await rm(base, { recursive: true, force: true });
}

/** Through the range, a movement once the one before is drawn. */
function slide(frame: Frame): Promise<number[]> {
  return frame.evaluate(`(async () => {
    ${nextDrawing}
    const slider = document.querySelector('#activation');
    const [low, high] = [Number(slider.min), Number(slider.max)];
    const times = [];
    for (let k = 0; k < 90; k++) {
      const drawn = nextDrawing();
      const before = performance.now();
      slider.value = String(low + ((k % 20) / 20) * (high - low));
      slider.dispatchEvent(new Event('input'));
      await drawn;
      times.push(performance.now() - before);
      await new Promise((done) => setTimeout(done, 20));
    }
    return times;
  })()`);
}

/** One digit of a parameter, taken away and put there again: every key leaves a whole text. */
async function type(workbench: Workbench, frame: Frame, name: string, parameter: string): Promise<number[]> {
  const { page } = workbench;
  const lines = (await readFile(join(base, name), 'utf8')).split('\n');
  const line = lines.findIndex((one) => one.includes(parameter));
  if (line < 0) throw new Error(`${name} has no \`${parameter}\`.`);
  await workbench.goTo(line + 1, lines[line].indexOf(parameter) + parameter.length + 1);
  await page.keyboard.type('.05', { delay: 300 });
  await page.keyboard.press('Escape');
  await page.evaluate(`addEventListener('keydown', () => {
    window.pressed = performance.timeOrigin + performance.now();
  }, true)`);
  const times: number[] = [];
  for (let k = 0; k < 50; k++) {
    await page.waitForTimeout(700);
    const drawn = frame.evaluate(`(async () => {
      ${nextDrawing}
      await nextDrawing();
      return performance.timeOrigin + performance.now();
    })()`) as Promise<number>;
    await page.waitForTimeout(50);
    await page.keyboard.press(k % 2 === 0 ? 'Backspace' : String(1 + ((k >> 1) % 9)));
    times.push((await drawn) - ((await page.evaluate('window.pressed')) as number));
  }
  return times;
}

function print(what: string, times: readonly number[]): void {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (part: number) => sorted[Math.floor(part * (sorted.length - 1))].toFixed(1);
  console.log(`${what}: median ${at(0.5)} ms, p95 ${at(0.95)} ms (goal: median ${goal} ms)`);
}
