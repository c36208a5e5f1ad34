/** The preview's page in a real browser, under the page's policy, without an editor round it: this test is its host. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import type { Browser, Locator, Page } from 'playwright-core';
import { defaultSettings } from '#features/settings';
import type { MessageToExtension } from '../../client/src/preview-messages';

export const root = resolve(import.meta.dirname, '../..');
const address = 'http://preview.test/';

/** Ground, ink, quiet, line and focus colours as an editor gives them. */
const themes = {
  light: '#ffffff #24292f #57606a #d0d7de #0969da',
  dark: '#1f2328 #e6e9ec #a3adb8 #3d444d #4493f8',
  'high-contrast': '#000000 #ffffff #ffffff #6fc3df #f38518',
  'high-contrast-light': '#ffffff #292929 #292929 #0f4a85 #006bbd',
} as const;

/** No script that computes at all. */
export const MISSING = 'missing';

export type Theme = keyof typeof themes;

export interface PreviewPage {
  readonly page: Page;
  /** What the browser complained of. */
  readonly complaints: string[];
  /** Whether each ask so far wanted the bending plan. */
  plansAsked(): Promise<boolean[]>;
  /** The text with everything written so far. */
  text(): string;
  /** Edits made to the text. */
  edits(): number;
  close(): Promise<void>;
}

/** A part of the page that folds away. */
export const fold = (page: Page, name: string): Locator => page.locator(`details:has(> summary:text-is("${name}"))`);

/**
 * @param name  of an example's file
 * @param written  instead of the example's text
 * @param drawn  what the page shows once it is ready
 * @param engine  instead of the script that computes
 */
export async function openPreviewPage(
  browser: Browser,
  name: string,
  theme: Theme,
  width: number,
  written = readFileSync(join(root, 'examples', name), 'utf8'),
  { drawn = '.canvas svg', engine }: { readonly drawn?: string; readonly engine?: string | undefined } = {},
): Promise<PreviewPage> {
  const built = await bundled();
  const { script, css } = built;
  const uri = `file:///${name}`;
  let text = written;
  let version = 1;
  let edits = 0;
  const write = ({ changes }: Extract<MessageToExtension, { type: 'edit' }>) => {
    text = [...changes]
      .sort((a, b) => b.start - a.start)
      .reduce((all, { start, end, text: value }) => all.slice(0, start) + value + all.slice(end), text);
    version += 1;
    edits += 1;
    return JSON.stringify({ type: 'text', uri, version, text });
  };

  const context = await browser.newContext({
    colorScheme: theme === 'dark' || theme === 'high-contrast' ? 'dark' : 'light',
    viewport: { width, height: 900 },
  });
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
    'host.js': ['text/javascript', hostScript(uri, name)],
    'preview.js': ['text/javascript', script],
    ...(engine === MISSING ? {} : { 'preview-engine.js': ['text/javascript', engine ?? built.engine] }),
  };
  await page.route(`${address}**`, (route) => {
    const file = files[route.request().url().slice(address.length)];
    if (!file) return route.fulfill({ status: 404, body: '' });
    const [contentType, body] = file;
    return route.fulfill({ contentType, body });
  });
  await page.exposeFunction('textNow', () => JSON.stringify({ type: 'text', uri, version, text }));
  await page.exposeFunction('writeFor', (message: string) => write(JSON.parse(message)));
  await page.goto(address);
  await page.locator(drawn).waitFor();
  return {
    page,
    complaints,
    plansAsked: () => page.evaluate('window.asked'),
    text: () => text,
    edits: () => edits,
    close: () => context.close(),
  };
}

let bundle: Promise<{ script: string; engine: string; css: string }> | undefined;

function bundled() {
  bundle ??= build({
    entryPoints: {
      preview: join(root, 'client/webview/preview-in-editor.ts'),
      engine: join(root, 'client/webview/engine.worker.ts'),
    },
    bundle: true,
    write: false,
    outdir: root,
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
    loader: { '.spring': 'text' },
  }).then(({ outputFiles }) => {
    const built = (end: string): string => outputFiles.find(({ path }) => path.endsWith(end))!.text;
    return { script: built('preview.js'), engine: built('engine.js'), css: built('.css') };
  });
  return bundle;
}

/** The extension's half of the page: gives it the text, and writes what it wants written. */
const hostScript = (uri: string, name: string) => `
window.asked = [];
const post = Worker.prototype.postMessage;
Worker.prototype.postMessage = function (message) {
  if (message.type === 'ask') window.asked.push(message.params.plan === true);
  post.call(this, message);
};
// Outlives a reload, as an editor keeps it.
const kept = sessionStorage.getItem('state');
window.acquireVsCodeApi = () => ({
  getState: () => (kept === null ? undefined : JSON.parse(kept)),
  setState: (state) => sessionStorage.setItem('state', JSON.stringify(state)),
  postMessage: async (message) => {
    const tell = (message) => window.postMessage(message, '*');
    if (message.type === 'ready') {
      tell(${JSON.stringify({ type: 'settings', uri, settings: defaultSettings })});
      tell(JSON.parse(await window.textNow()));
      tell({ type: 'document', uri: '${uri}', name: '${name}' });
    }
    if (message.type === 'reveal') window.revealed = [message.start, message.end];
    if (message.type === 'readFile') tell({ type: 'file', uri: message.uri });
    if (message.type === 'edit') tell(JSON.parse(await window.writeFor(JSON.stringify(message))));
  },
});`;

const html = (theme: Theme) => `<!doctype html><html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'nonce-a'; style-src ${address}; connect-src ${address}; worker-src blob:; base-uri 'none'; form-action 'none'">
<link rel="stylesheet" href="preview.css"><link rel="stylesheet" href="theme.css"><title>Preview</title></head>
<body class="vscode-${theme}${theme === 'high-contrast-light' ? ' vscode-high-contrast' : ''}"><main id="preview" data-worker="preview-engine.js"></main><script nonce="a" src="host.js"></script><script nonce="a" src="preview.js"></script></body></html>`;

function themeCss(theme: Theme): string {
  const [ground, ink, quiet, line, focus] = themes[theme].split(' ');
  return `:root { --vscode-editor-background: ${ground}; --vscode-editor-foreground: ${ink}; --vscode-descriptionForeground: ${quiet};
    --vscode-panel-border: ${line}; --vscode-focusBorder: ${focus}; --vscode-textLink-foreground: ${focus};
    --vscode-dropdown-background: ${ground}; --vscode-dropdown-foreground: ${ink};
    --vscode-input-background: ${ground}; --vscode-input-foreground: ${ink}; --vscode-input-border: ${line};
    ${theme.startsWith('high') ? `--vscode-contrastBorder: ${line};` : ''}
    --vscode-font-family: "DejaVu Sans", sans-serif; --vscode-font-size: 13px; }`;
}
