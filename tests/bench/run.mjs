// Runs the benchmarks, each in a process of its own: `node tests/bench/run.mjs [name …]`, or `npm run bench`.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = dirname(fileURLToPath(import.meta.url));
const wanted = process.argv.slice(2);
// These take many minutes and run only when they are named.
const onDemand = ['calculix', 'random-long'];
const names = readdirSync(here)
  .filter((file) => file.endsWith('.bench.ts'))
  .map((file) => file.slice(0, -'.bench.ts'.length))
  .filter((name) => (wanted.length === 0 ? !onDemand.includes(name) : wanted.includes(name)));
if (names.length === 0) {
  console.error(`No benchmark called ${wanted.join(', ')}.`);
  process.exit(2);
}

// Two folders below the checkout, as the sources are: they find it, and packages that cannot be bundled.
const folder = mkdtempSync(join(here, '../../node_modules/.springwright-bench-'));
let failed = false;
try {
  await build({
    entryPoints: Object.fromEntries(names.map((name) => [name, join(here, `${name}.bench.ts`)])),
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    // Some packages' CommonJS form cannot be bundled.
    mainFields: ['module', 'main'],
    outdir: folder,
    external: ['playwright-core', 'esbuild'],
    outExtension: { '.js': '.mjs' },
    loader: { '.spring': 'text' },
    // Bundled CommonJS packages expect a `require`.
    banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);" },
    logLevel: 'warning',
  });
  for (const name of names) {
    console.log(`\n== ${name} ==`);
    const { status } = spawnSync(process.execPath, [join(folder, `${name}.mjs`)], { stdio: 'inherit' });
    if (status !== 0) failed = true;
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
if (wanted.length === 0) console.log(`\nOn demand, many minutes each: ${onDemand.join(', ')}.`);
process.exitCode = failed ? 1 : 0;
