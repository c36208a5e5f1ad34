/** How long the command line takes to be there, each time in a fresh process: median and range of ten runs. */
import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { bundle } from '../lsp/bundle';

const example = resolve('examples/01-v-bend.spring');
const { file } = await bundle('springwright');

for (const [name, args] of [
  ['Node alone', ['--eval', '0']],
  ['--version', [file, '--version']],
  ['check, one planar wire', [file, 'check', example]],
] as const) {
  const times = Array.from({ length: 10 }, () => {
    const begun = performance.now();
    const { status } = spawnSync(process.execPath, args);
    if (status !== 0) throw new Error(`${name} exits with ${status}.`);
    return performance.now() - begun;
  }).sort((a, b) => a - b);
  const [median, fastest, slowest] = [times[5], times[0], times[9]].map((time) => time.toFixed(0));
  console.log(`${name.padEnd(24)} ${median} ms (${fastest} .. ${slowest})`);
}
console.log('Goal: help and version within 300 ms.');
