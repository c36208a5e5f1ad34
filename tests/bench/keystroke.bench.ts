/**
 * From a keystroke to updated hints and diagnostics, through the bundled language server over stdio.
 * Every keystroke changes a number that changes the force, so that every one of them solves.
 */
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { startNodeServer } from '../lsp/test-client';
import text from './keystroke.spring';

const goal = 16.7;
const warmUp = 30;
const measured = 200;
const uri = 'file:///bench/keystroke.spring';

const server = resolve('dist/server.node.cjs');
if (!existsSync(server)) {
  console.error('There is no built server. Run `npm run build` first.');
  process.exit(2);
}
const client = await startNodeServer(server);

const opened = performance.now();
client.open(uri, text);
await client.hints(uri);
console.log(`first hints after the file is opened: ${(performance.now() - opened).toFixed(1)} ms`);
await client.diagnostics(uri);

const line = text.split('\n').findIndex((one) => one.includes('param gable'));
const character = text.split('\n')[line].indexOf('15.00');
const range = { start: { line, character }, end: { line, character: character + '15.00'.length } };

const toHints: number[] = [];
const toDiagnostics: number[] = [];
const forces = new Set<string>();
let before = await client.effort();
for (let key = 0; key < warmUp + measured; key++) {
  if (key === warmUp) {
    toHints.length = toDiagnostics.length = 0;
    forces.clear();
    before = await client.effort();
  }
  const started = performance.now();
  client.change(uri, { range, text: (12 + key / 100).toFixed(2) });
  const published = client.diagnostics(uri).then(() => toDiagnostics.push(performance.now() - started));
  const hints = await client.hints(uri);
  toHints.push(performance.now() - started);
  await published;
  forces.add(hints.map(({ tooltip }) => JSON.stringify(tooltip)).join());
}
const after = await client.effort();
await client.stop();

console.log(`file of ${text.trimEnd().split('\n').length} lines, ${measured} keystrokes`);
console.log(`keystroke to updated hints:       ${summary(toHints)} (goal: median ${goal} ms, p95 ${2 * goal} ms)`);
console.log(`keystroke to updated diagnostics: ${summary(toDiagnostics)}`);
console.log(
  `parses ${after.parses - before.parses}, solved curves ${after.solves - before.solves}, different results ${forces.size}`,
);
for (const name of ['inlay hints', 'results']) {
  const [now, then] = [after.requests[name], before.requests[name]];
  const mean = (now.total - then.total) / (now.count - then.count);
  console.log(`  of which in the server, ${name}: mean ${mean.toFixed(2)} ms`);
}
if (after.solves - before.solves !== measured || forces.size !== measured) {
  console.error('Some keystrokes did not change the result: this measures nothing.');
  process.exitCode = 1;
}

function summary(times: readonly number[]): string {
  const sorted = [...times].sort((left, right) => left - right);
  const at = (part: number): string => sorted[Math.floor(part * (sorted.length - 1))].toFixed(2);
  return `median ${at(0.5)} ms, p95 ${at(0.95)} ms`;
}
