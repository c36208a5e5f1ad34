/**
 * The preview in a real browser: from a movement of the activation's slider, and from a keystroke in the text, to the page with its new
 * drawing. Server and page's host run in this process, so that what is measured is everything but the editor's own message passing.
 */

import { openPreviewPage } from '../e2e/preview-page';
import { launchBrowser } from '../e2e/workbench';

const frame = 16.7;
const browser = await launchBrowser();

for (const name of ['03-t-loop.spring', '06-space-closing-spring.spring']) {
  const { page, close } = await openPreviewPage(browser, name, 'light', 1000);
  try {
    // In the page: sets the slider, waits for the drawing to be replaced, by the browser's own clock.
    const times = (await page.evaluate(`(async () => {
      const slider = document.querySelector('#activation');
      const canvas = document.querySelector('.canvas');
      const times = [];
      for (let k = 0; k < 60; k++) {
        const replaced = new Promise((done) => {
          const watcher = new MutationObserver(() => { watcher.disconnect(); done(); });
          watcher.observe(canvas, { childList: true });
        });
        const before = performance.now();
        slider.value = String(Number(slider.min) + ((k % 20) / 20) * (Number(slider.max) - Number(slider.min)));
        slider.dispatchEvent(new Event('input'));
        await replaced;
        times.push(performance.now() - before);
        await new Promise((done) => setTimeout(done, 20));
      }
      return times.slice(10);
    })()`)) as number[];
    print(`${name}: slider to drawing`, times);
    const edits = (await page.evaluate(`(async () => {
      const canvas = document.querySelector('.canvas');
      const times = [];
      for (let k = 0; k < 40; k++) {
        const replaced = new Promise((done) => {
          const watcher = new MutationObserver(() => { watcher.disconnect(); done(); });
          watcher.observe(canvas, { childList: true });
        });
        const before = performance.now();
        await window.typeFor(k);
        await replaced;
        times.push(performance.now() - before);
      }
      return times.slice(10);
    })()`)) as number[];
    print(`${name}: keystroke to drawing`, edits);
  } finally {
    await close();
  }
}
await browser.close();

function print(what: string, times: readonly number[]): void {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (part: number) => sorted[Math.floor(part * (sorted.length - 1))].toFixed(1);
  console.log(`${what}: median ${at(0.5)} ms, p95 ${at(0.95)} ms (goal: median ${frame} ms)`);
}
