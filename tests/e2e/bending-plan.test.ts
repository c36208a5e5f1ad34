/** The bending plan on the preview's page, in a real browser under the page's policy, without an editor round it. */
import { mkdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { defaultSettings } from '#features/settings';
import { previewContent } from '#lsp/preview';
import type { PreviewContent, PreviewParams } from '#lsp/protocol';
import { createWorkspace } from '#workspace/workspace';
import { launchBrowser } from './workbench';

const root = resolve(import.meta.dirname, '../..');
const address = 'http://preview.test/';
const uri = 'file:///03-t-loop.spring';

let browser: Browser;
let script: string;
let css: string;
let answer: (params: PreviewParams) => PreviewContent;

beforeAll(async () => {
  const { outputFiles } = await build({
    entryPoints: [join(root, 'client/webview/preview.ts')],
    bundle: true,
    write: false,
    outdir: root,
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
  });
  const built = (end: string): string => outputFiles.find(({ path }) => path.endsWith(end))!.text;
  [script, css] = [built('.js'), built('.css')];
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, readFileSync(join(root, 'examples/03-t-loop.spring'), 'utf8'), 1);
  const snapshot = (await workspace.snapshot(uri))!;
  answer = (params) => previewContent(snapshot, params, defaultSettings);
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

/** The host's half of the page: answers what the page asks. */
const hostScript = `
window.asked = [];
window.acquireVsCodeApi = () => ({
  getState: () => undefined,
  setState: () => {},
  postMessage: async (message) => {
    if (message.type === 'ready') window.postMessage({ type: 'document', uri: '${uri}', name: '03-t-loop.spring' }, '*');
    if (message.type !== 'ask') return;
    window.asked.push(message.params.plan === true);
    const content = JSON.parse(await window.answerFor(JSON.stringify(message.params)));
    window.postMessage({ type: 'answer', uri: '${uri}', content }, '*');
  },
});`;

const html = (theme: string) => `<!doctype html><html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'nonce-a'; style-src ${address}; base-uri 'none'; form-action 'none'">
<link rel="stylesheet" href="preview.css"><link rel="stylesheet" href="theme.css"><title>Preview</title></head>
<body class="vscode-${theme}"><main id="preview"></main><script nonce="a" src="host.js"></script><script nonce="a" src="preview.js"></script></body></html>`;

const themes = {
  light: '#ffffff #24292f #57606a #d0d7de #0969da',
  dark: '#1f2328 #e6e9ec #a3adb8 #3d444d #4493f8',
} as const;

function themeCss(theme: keyof typeof themes): string {
  const [ground, ink, quiet, line, focus] = themes[theme].split(' ');
  return `:root { --vscode-editor-background: ${ground}; --vscode-editor-foreground: ${ink}; --vscode-descriptionForeground: ${quiet};
    --vscode-panel-border: ${line}; --vscode-focusBorder: ${focus}; --vscode-font-family: "DejaVu Sans", sans-serif; --vscode-font-size: 13px; }`;
}

async function open(theme: keyof typeof themes, width: number) {
  const context = await browser.newContext({ colorScheme: theme, viewport: { width, height: 900 } });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', ({ message }) => complaints.push(message));
  const files: Record<string, [string, string]> = {
    '': ['text/html', html(theme)],
    'preview.css': ['text/css', css],
    'theme.css': ['text/css', themeCss(theme)],
    'host.js': ['text/javascript', hostScript],
    'preview.js': ['text/javascript', script],
  };
  await page.route(`${address}**`, (route) => {
    const [contentType, body] = files[route.request().url().slice(address.length)] ?? ['text/plain', ''];
    return route.fulfill({ contentType, body });
  });
  await page.exposeFunction('answerFor', (params: string) => JSON.stringify(answer(JSON.parse(params))));
  await page.goto(address);
  await page.locator('.canvas svg').waitFor();
  return { page, complaints, close: () => context.close() };
}

describe.each([
  ['light', 900],
  ['dark', 420],
] as const)('in the %s theme, %d pixels wide', (theme, width) => {
  test('the plan is folded and not asked for, and the keyboard unfolds and scrolls it', {
    timeout: 120_000,
  }, async () => {
    const { page, complaints, close } = await open(theme, width);
    try {
      const plan = page.locator('details.plan');
      expect(await plan.getAttribute('open')).toBeNull();
      expect(await page.evaluate('window.asked.some((plan) => plan)')).toBe(false);
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
