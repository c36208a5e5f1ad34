/** The preview's page in a real browser, under the page's policy, without an editor round it: this test is its host. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import type { Browser, Locator, Page } from 'playwright-core';
import { defaultSettings } from '#features/settings';
import { previewContent } from '#lsp/preview';
import { parameterChanges, withValues } from '#lsp/preview-parameters';
import type { ParameterEditParams, PreviewParams } from '#lsp/protocol';
import { createWorkspace } from '#workspace/workspace';

export const root = resolve(import.meta.dirname, '../..');
const address = 'http://preview.test/';

/** Ground, ink, quiet, line and focus colours as an editor gives them. */
const themes = {
  light: '#ffffff #24292f #57606a #d0d7de #0969da',
  dark: '#1f2328 #e6e9ec #a3adb8 #3d444d #4493f8',
  'high-contrast': '#000000 #ffffff #ffffff #6fc3df #f38518',
  'high-contrast-light': '#ffffff #292929 #292929 #0f4a85 #006bbd',
} as const;

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
 */
export async function openPreviewPage(
  browser: Browser,
  name: string,
  theme: Theme,
  width: number,
  written = readFileSync(join(root, 'examples', name), 'utf8'),
): Promise<PreviewPage> {
  const { script, css } = await bundled();
  const uri = `file:///${name}`;
  const workspace = createWorkspace({ readFile: async () => undefined });
  let text = written;
  let version = 1;
  let edits = 0;
  workspace.open(uri, text, version);

  const changesOf = async ({ appliance, values = {} }: Pick<PreviewParams, 'appliance' | 'values'>) => {
    const snapshot = (await workspace.snapshot(uri))!;
    const shown = snapshot.appliances.find((one) => one.appliance.name === appliance) ?? snapshot.appliances[0];
    return { snapshot, changed: withValues(snapshot, parameterChanges(shown.appliance, values, snapshot.text)) };
  };
  const answer = async (params: PreviewParams) => {
    const { snapshot, changed } = await changesOf(params);
    const tried = changed === snapshot.text ? snapshot : await workspace.tryOut(uri, changed);
    return previewContent(tried!, params, defaultSettings);
  };
  const write = async (params: ParameterEditParams) => {
    text = (await changesOf(params)).changed;
    version += 1;
    edits += 1;
    workspace.open(uri, text, version);
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
  };
  await page.route(`${address}**`, (route) => {
    const [contentType, body] = files[route.request().url().slice(address.length)] ?? ['text/plain', ''];
    return route.fulfill({ contentType, body });
  });
  await page.exposeFunction('answerFor', async (params: string) => JSON.stringify(await answer(JSON.parse(params))));
  await page.exposeFunction('writeFor', async (params: string) => write(JSON.parse(params)));
  await page.goto(address);
  await page.locator('.canvas svg').waitFor();
  return {
    page,
    complaints,
    plansAsked: () => page.evaluate('window.asked'),
    text: () => text,
    edits: () => edits,
    close: () => context.close(),
  };
}

let bundle: Promise<{ script: string; css: string }> | undefined;

function bundled() {
  bundle ??= build({
    entryPoints: [join(root, 'client/webview/preview.ts')],
    bundle: true,
    write: false,
    outdir: root,
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
  }).then(({ outputFiles }) => {
    const built = (end: string): string => outputFiles.find(({ path }) => path.endsWith(end))!.text;
    return { script: built('.js'), css: built('.css') };
  });
  return bundle;
}

/** The host's half of the page: answers what the page asks, and writes what it wants written. */
const hostScript = (uri: string, name: string) => `
window.asked = [];
// Outlives a reload, as an editor keeps it.
const kept = sessionStorage.getItem('state');
window.acquireVsCodeApi = () => ({
  getState: () => (kept === null ? undefined : JSON.parse(kept)),
  setState: (state) => sessionStorage.setItem('state', JSON.stringify(state)),
  postMessage: async (message) => {
    if (message.type === 'ready') window.postMessage({ type: 'document', uri: '${uri}', name: '${name}' }, '*');
    if (message.type === 'reveal') window.revealed = [message.start, message.end];
    if (message.type === 'write') {
      await window.writeFor(JSON.stringify(message.params));
      window.postMessage({ type: 'changed', uri: '${uri}' }, '*');
    }
    if (message.type !== 'ask') return;
    window.asked.push(message.params.plan === true);
    const content = JSON.parse(await window.answerFor(JSON.stringify(message.params)));
    window.postMessage({ type: 'answer', uri: '${uri}', content }, '*');
  },
});`;

const html = (theme: Theme) => `<!doctype html><html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'nonce-a'; style-src ${address}; base-uri 'none'; form-action 'none'">
<link rel="stylesheet" href="preview.css"><link rel="stylesheet" href="theme.css"><title>Preview</title></head>
<body class="vscode-${theme}${theme === 'high-contrast-light' ? ' vscode-high-contrast' : ''}"><main id="preview"></main><script nonce="a" src="host.js"></script><script nonce="a" src="preview.js"></script></body></html>`;

function themeCss(theme: Theme): string {
  const [ground, ink, quiet, line, focus] = themes[theme].split(' ');
  return `:root { --vscode-editor-background: ${ground}; --vscode-editor-foreground: ${ink}; --vscode-descriptionForeground: ${quiet};
    --vscode-panel-border: ${line}; --vscode-focusBorder: ${focus}; --vscode-textLink-foreground: ${focus};
    --vscode-dropdown-background: ${ground}; --vscode-dropdown-foreground: ${ink};
    --vscode-input-background: ${ground}; --vscode-input-foreground: ${ink}; --vscode-input-border: ${line};
    ${theme.startsWith('high') ? `--vscode-contrastBorder: ${line};` : ''}
    --vscode-font-family: "DejaVu Sans", sans-serif; --vscode-font-size: 13px; }`;
}
