/** VS Code as `npm start` serves it, in a real browser, and what a person does there. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { type Browser, chromium, type FrameLocator, type Locator, type Page } from 'playwright-core';
import { findChromium } from './chromium.mjs';

const root = path.resolve(import.meta.dirname, '../..');
const screenshots = path.join(root, 'tests', 'output');

/** Longest wait for anything on the page; a busy machine of two cores needs up to half a minute for the first start. */
const patience = 60_000;

export interface StartedHost {
  readonly address: string;
  stop(): Promise<void>;
}

/** Runs the command of `npm start` on a folder and waits for the address it prints. */
export async function startHost(folder: string): Promise<StartedHost> {
  const script = path.join(root, 'client', 'browser', 'start.mjs');
  const host = spawn(process.execPath, [script, '--no-open', '--port', '0', '--folder', folder], { cwd: root });
  const address = await printedAddress(host);
  const stopped = new Promise<void>((resolve) => host.once('exit', () => resolve()));
  return {
    address,
    async stop() {
      host.kill();
      await stopped;
    },
  };
}

async function printedAddress(host: ChildProcess): Promise<string> {
  let complaint = '';
  host.stderr?.on('data', (chunk) => {
    complaint += chunk;
  });
  for await (const line of createInterface({ input: host.stdout! })) {
    const address = /http:\/\/\S+/.exec(line)?.[0];
    if (address) return address;
  }
  throw new Error(`npm start's command ended without an address: ${complaint.trim()}`);
}

export function launchBrowser(): Promise<Browser> {
  const args = [
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-gpu',
    '--disable-quic',
    '--disable-sync',
    '--no-first-run',
  ];
  // Chromium refuses its sandbox to root, which is what runs in a container.
  if (process.getuid?.() === 0) args.push('--no-sandbox');
  return chromium.launch({ executablePath: findChromium(), headless: true, args });
}

export class Workbench {
  /** Origins other than the host's that were asked for anything. */
  readonly foreignOrigins = new Set<string>();
  /** What the page's console says about a content security policy. */
  readonly policyViolations: string[] = [];
  /** Exceptions that no one caught, on the page or in a frame. */
  readonly exceptions: string[] = [];

  private constructor(
    readonly page: Page,
    private readonly name: string,
    private readonly host: string,
  ) {}

  static async openEmpty(
    browser: Browser,
    address: string,
    colorScheme: 'light' | 'dark',
    host = 'worker-host',
  ): Promise<Workbench> {
    const context = await browser.newContext({ colorScheme, viewport: { width: 1440, height: 900 } });
    const page = await context.newPage();
    page.setDefaultTimeout(patience);
    const workbench = new Workbench(page, colorScheme, host);
    const own = new URL(address).origin;
    context.on('request', (request) => {
      const { origin, protocol } = new URL(request.url());
      if (/^(http|ws)/.test(protocol) && origin !== own) workbench.foreignOrigins.add(origin);
    });
    page.on('console', (message) => {
      if (/content security policy/i.test(message.text())) workbench.policyViolations.push(message.text());
    });
    page.on('pageerror', (error) => workbench.exceptions.push(error.message));
    await page.goto(address);
    await page.waitForSelector('.explorer-folders-view');
    return workbench;
  }

  /** With a folder that has files, as they are listed. */
  static async open(...args: Parameters<typeof Workbench.openEmpty>): Promise<Workbench> {
    const workbench = await Workbench.openEmpty(...args);
    await workbench.page.waitForSelector('.explorer-folders-view .monaco-list-row');
    return workbench;
  }

  tab(name: string): Locator {
    return this.page.locator(`.tab[data-resource-name="${name}"]`).first();
  }

  get previewTab(): Locator {
    return this.page.getByRole('tab', { name: /^Preview / });
  }

  /** Opens a file of the folder's top level in the group that was used last. */
  async openFile(name: string): Promise<void> {
    await this.page
      .locator('.explorer-folders-view .monaco-list-row')
      .filter({ has: this.page.getByText(name, { exact: true }) })
      .dblclick();
    await this.page.locator(`.tab.active[data-resource-name="${name}"]`).first().waitFor();
    await this.page.locator('.editor-instance .view-line').first().waitFor();
  }

  /** The editor's lines as they are shown, inlay hints included. */
  async shownText(): Promise<string> {
    const text = (await this.page.locator('.editor-instance .view-lines').first().textContent()) ?? '';
    return text.replaceAll('\u00a0', ' ');
  }

  /** Puts the cursor of the active editor there. Line and column count from 1. */
  async goTo(line: number, column: number): Promise<void> {
    await this.page.locator('.tab.active').first().click();
    await this.page.keyboard.press('Control+G');
    await this.page.locator('.quick-input-widget .quick-input-box input').fill(`:${line}:${column}`);
    await this.page.keyboard.press('Enter');
    await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
  }

  /** Types over as many characters as a person would select there. */
  async typeOver(line: number, column: number, length: number, text: string): Promise<void> {
    await this.goTo(line, column);
    for (let i = 0; i < length; i++) await this.page.keyboard.press('Shift+ArrowRight');
    await this.page.keyboard.type(text, { delay: 60 });
    // Closes the list of suggestions.
    await this.page.keyboard.press('Escape');
  }

  /** A command by its title, as the palette has it. */
  async run(title: string): Promise<void> {
    await this.page.keyboard.press('F1');
    await this.page.locator('.quick-input-widget .quick-input-box input').fill(`>${title}`);
    await this.page.locator('.quick-input-list .monaco-list-row').first().waitFor();
    await this.page.keyboard.press('Enter');
  }

  async save(): Promise<void> {
    await this.page.keyboard.press('ControlOrMeta+S');
    await this.page.locator('.tab.active:not(.dirty)').first().waitFor();
  }

  /** Presses the button in the editor's title and waits for the drawing. */
  async openPreview(): Promise<FrameLocator> {
    await this.page.getByRole('button', { name: 'Open Preview' }).first().click();
    await this.preview.locator('.canvas svg').waitFor();
    return this.preview;
  }

  get preview(): FrameLocator {
    return this.page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  }

  async screenshot(name: string): Promise<void> {
    await mkdir(screenshots, { recursive: true });
    await this.page.screenshot({ path: path.join(screenshots, `${this.host}-${name}-${this.name}.png`) });
  }

  async close(): Promise<void> {
    await this.page.context().close();
  }
}

/** Reads until the value satisfies the condition; says what was awaited, and what there was instead, when that never comes. */
export async function until<T>(read: () => Promise<T>, condition: (value: T) => boolean, what: string): Promise<T> {
  const end = Date.now() + patience;
  let value = await read();
  while (!condition(value)) {
    if (Date.now() > end) throw new Error(`Waited in vain for ${what}. There was: ${value}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
    value = await read();
  }
  return value;
}

/** Line and column, counted from 1, of the first occurrence. */
export function place(text: string, wanted: string): { line: number; column: number } {
  const offset = text.indexOf(wanted);
  if (offset < 0) throw new Error(`The example no longer contains "${wanted}".`);
  const before = text.slice(0, offset).split('\n');
  return { line: before.length, column: before[before.length - 1].length + 1 };
}
