/**
 * What someone who types waits for: from a keystroke to diagnostics, to hints and to completion, through the bundled
 * language server over stdio, in a file of 60 lines, one of 2,000 and a folder of 200 files. Every keystroke changes a
 * number that changes the force, so that every one of them solves.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { getCSSLanguageService, TextDocument } from 'vscode-css-languageservice';
import type { CompletionItem, WorkspaceSymbol } from 'vscode-languageserver/node';
import { provideDiagnostics } from '#features/diagnostics';
import { createWorkspace } from '#workspace/workspace';
import { startNodeServer } from '../lsp/test-client';
import section from './keystroke.spring';

const frame = 16.7;
/** Between two keystrokes of someone who types fast, ms: what is left for later happens in it. */
const BETWEEN_KEYS = 60;
const server = resolve('dist/server.node.cjs');
if (!existsSync(server)) {
  console.error('There is no built server. Run `npm run build` first.');
  process.exit(2);
}

/** The same section, 60 lines, with loops of its own height, so that each is solved by itself. */
const sectionOf = (index: number, use = 'use "alloys"') =>
  section
    .replace('use "alloys"', use)
    .replaceAll('vertical', `vertical_${index}`)
    .replaceAll('closing_section', `closing_section_${index}`)
    .replace('loop_height = 8 mm ', `loop_height = ${(7 + index / 100).toFixed(2)} mm`);
const longFile = lines(
  Array.from({ length: 40 }, (_, k) => sectionOf(k, k === 0 ? 'use "alloys"' : '')).join('\n'),
  2000,
);

await keystrokes('a file of 60 lines', section, 200, { hints: `goal: median ${frame} ms, p95 ${2 * frame} ms` });
await keystrokes(
  'a file of 60 lines that stays elastic',
  section
    .replace('0 mm .. 3 mm step', '0 mm .. 1.5 mm step')
    .replace('of beta_titanium', 'of beta_titanium stress relieved'),
  200,
  {
    hints: `goal: median ${frame} ms, p95 ${2 * frame} ms`,
  },
);
await keystrokes('a file of 2,000 lines', longFile, 40);
await folder(200);
await sideBySide();

async function keystrokes(name: string, text: string, count: number, goals: { hints?: string } = {}): Promise<void> {
  const uri = 'file:///bench/keystroke.spring';
  const client = await startNodeServer(server);
  const opened = performance.now();
  client.open(uri, text);
  await client.hints(uri);
  const firstHints = performance.now() - opened;
  await client.diagnostics(uri);
  await measure(name, client, uri, text, count, goals);
  console.log(
    `  first hints after opening: ${firstHints.toFixed(0)} ms; memory of the server: ${memory(client.process.pid)}`,
  );
  await client.stop();
}

async function measure(
  name: string,
  client: Awaited<ReturnType<typeof startNodeServer>>,
  uri: string,
  text: string,
  count: number,
  goals: { hints?: string } = {},
): Promise<void> {
  const middle = text.indexOf('15.00', text.length / 2);
  const before = text.slice(0, middle < 0 ? text.indexOf('15.00') : middle);
  const line = before.split('\n').length - 1;
  const character = before.length - before.lastIndexOf('\n') - 1;
  const range = { start: { line, character }, end: { line, character: character + '15.00'.length } };
  const toHints: number[] = [];
  const toDiagnostics: number[] = [];
  const toCompletion: number[] = [];
  const forces = new Set<string>();
  const warmUp = Math.min(30, count);
  let begun = await client.effort();
  for (let key = 0; key < warmUp + count; key++) {
    if (key === warmUp) {
      toHints.length = toDiagnostics.length = toCompletion.length = 0;
      forces.clear();
      begun = await client.effort();
    }
    const asksCompletion = key % 2 === 1;
    const started = performance.now();
    client.change(uri, { range, text: (12 + key / 100).toFixed(2) });
    const published = client.diagnostics(uri).then(() => toDiagnostics.push(performance.now() - started));
    if (asksCompletion) {
      const offered = await client.ask<CompletionItem[]>('textDocument/completion', {
        textDocument: { uri },
        position: { line, character: character + '15.00 '.length },
      });
      toCompletion.push(performance.now() - started);
      if (offered.length === 0) throw new Error('Nothing was offered.');
    }
    const hints = await client.hints(uri);
    if (!asksCompletion) toHints.push(performance.now() - started);
    await published;
    forces.add(hints.map(({ tooltip }) => JSON.stringify(tooltip)).join());
    await new Promise((done) => setTimeout(done, BETWEEN_KEYS));
  }
  const after = await client.effort();
  const each = (after.parses - begun.parses) / count;
  console.log(`${name}, ${text.split('\n').length} lines, ${count} keystrokes`);
  console.log(`  to hints:       ${summary(toHints)}${goals.hints ? ` (${goals.hints})` : ''}`);
  console.log(`  to diagnostics: ${summary(toDiagnostics)}`);
  console.log(`  to completion:  ${summary(toCompletion)}`);
  console.log(
    `  parses per keystroke: ${each} (goal: 1); curves solved per keystroke: ${(after.solves - begun.solves) / count}`,
  );
  if (forces.size !== count || each !== 1) {
    console.error('  Some keystrokes did not change the result, or parsed more than once.');
    process.exitCode = 1;
  }
}

/** A folder whose files all use one module; one of them is open, and names are looked up in all. */
async function folder(count: number): Promise<void> {
  const client = await startNodeServer(server);
  const uriOf = (index: number) => `file:///bench/section-${index}.spring`;
  client.files.set('file:///bench/parts.spring', 'part arm(length = 6 mm) {\n  straight (length)\n}\n');
  const textOf = (index: number) =>
    sectionOf(index, 'use "alloys"\nuse "./parts.spring"').replace('straight 6 mm', 'arm(length = 6 mm)');
  for (let k = 0; k < count; k++) client.files.set(uriOf(k), textOf(k));
  const started = performance.now();
  client.open(uriOf(7), textOf(7));
  const symbols = await client.ask<WorkspaceSymbol[]>('workspace/symbol', { query: '' });
  const toSymbols = performance.now() - started;
  const found = await client.diagnostics(uriOf(7));
  const toAll = performance.now() - started;
  if (symbols.length < count || found.some(({ severity }) => severity === 1))
    throw new Error('The folder was not read.');
  console.log(
    `a folder of ${count} files opened: all names known after ${toSymbols.toFixed(0)} ms, first diagnostics too after ${toAll.toFixed(0)} ms (goal: 2000 ms)`,
  );
  await measure('  one of its files', client, uriOf(7), textOf(7), 40);
  console.log(`  memory of the server: ${memory(client.process.pid)}`);
  await client.stop();
}

/**
 * Text to diagnostics of 2,000 lines in this process, and of a style sheet's service: after keystrokes in the first lines that
 * leave what stands behind at its place, and after others that move all of it.
 */
async function sideBySide(): Promise<void> {
  const workspace = createWorkspace({ readFile: async () => undefined, trialsLater: true });
  const css = getCSSLanguageService();
  const uri = 'file:///bench/long.spring';
  const rule = (k: number) =>
    `.arm-${k} > a:hover {\n  color: #3${k % 10}a;\n  margin: ${k}px 2em;\n  border: 1px solid rgb(${k % 255}, 2, 3);\n  display: flex;\n}\n`;
  const sheet = lines(Array.from({ length: 400 }, (_, k) => rule(k)).join('\n'), 2000);
  const [ours, moving, theirs, cold]: number[][] = [[], [], [], []];
  for (let key = 0; key < 120; key++) {
    // One in two keystrokes keeps the length of the text before it.
    const digits = 2 + (Math.floor(key / 2) % 5);
    const text = longFile.replace('15.00', (12 + key / 100).toFixed(digits));
    const before = performance.now();
    workspace.open(uri, text, key);
    const snapshot = await workspace.snapshot(uri);
    const diagnostics = provideDiagnostics(snapshot!);
    (key === 0 ? cold : key % 2 === 0 ? moving : ours).push(performance.now() - before);
    const other = `${sheet}/* ${key} */`;
    const then = performance.now();
    const document = TextDocument.create('file:///bench/sheet.css', 'css', key, other);
    const findings = css.doValidation(document, css.parseStylesheet(document));
    if (key > 0) theirs.push(performance.now() - then);
    if (key === 0)
      console.log(
        `diagnostics of 2,000 lines side by side: ${diagnostics.length} findings, the style sheet has ${findings.length}`,
      );
  }
  console.log(
    `  after a keystroke:               ${summary(ours)} (goal: faster than the style sheet); opened first: ${cold[0].toFixed(0)} ms, with every wire solved`,
  );
  console.log(`  where it moves all that follows: ${summary(moving)}`);
  console.log(`  vscode-css-languageservice:      ${summary(theirs)}`);
}

function lines(text: string, count: number): string {
  return text.split('\n').slice(0, count).join('\n');
}

function memory(pid: number | undefined): string {
  const { stdout } = spawnSync('ps', ['-o', 'rss=', '-p', String(pid)], { encoding: 'utf8' });
  return `${(Number(stdout) / 1024).toFixed(0)} MiB`;
}

function summary(times: readonly number[]): string {
  const sorted = [...times].sort((left, right) => left - right);
  const at = (part: number): string => sorted[Math.floor(part * (sorted.length - 1))].toFixed(2);
  return `median ${at(0.5)} ms, p95 ${at(0.95)} ms`;
}
