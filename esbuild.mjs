// Builds everything that runs outside the tests: `node esbuild.mjs [--watch]`.
import { cpSync, existsSync, mkdirSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { context } from 'esbuild';

/** @typedef {Omit<import('esbuild').BuildOptions, 'entryPoints'> & { entryPoints: Record<string, string> }} Bundle */

/** @satisfies {import('esbuild').BuildOptions} */
const common = {
  bundle: true,
  logLevel: 'warning',
  sourcemap: 'linked',
  // What is installed stays small; names stay as they are, for what a log says.
  minifyWhitespace: true,
  minifySyntax: true,
  target: 'es2022',
  outdir: 'dist',
  loader: { '.spring': 'text' },
  // A package that asks for its own address, and reads nothing from there, gets one.
  define: { 'import.meta.url': '"file:///springwright"' },
  alias: { fontkit: './server/src/sheet/no-embedded-fonts.ts' },
};

/** @type {Bundle[]} */
const known = [
  {
    ...common,
    entryPoints: { 'extension.node': 'client/src/extension.node.ts' },
    platform: 'node',
    format: 'cjs',
    outExtension: { '.js': '.cjs' },
    external: ['vscode'],
  },
  {
    ...common,
    entryPoints: { 'server.node': 'server/src/main.node.ts' },
    platform: 'node',
    format: 'cjs',
    outExtension: { '.js': '.cjs' },
  },
  {
    ...common,
    entryPoints: { springwright: 'server/src/main.cli.ts' },
    platform: 'node',
    format: 'cjs',
    outExtension: { '.js': '.cjs' },
    // A package that asks for its own address gets that of the bundle; CommonJS has none to give.
    banner: { js: "#!/usr/bin/env node\nconst bundleUrl = require('node:url').pathToFileURL(__filename).href;" },
    define: { 'import.meta.url': 'bundleUrl' },
  },
  {
    ...common,
    entryPoints: { 'extension.web': 'client/src/extension.web.ts' },
    platform: 'browser',
    format: 'cjs',
    external: ['vscode'],
  },
  {
    ...common,
    entryPoints: { 'files-extension': 'client/browser/files-extension/main.ts' },
    platform: 'browser',
    format: 'cjs',
    external: ['vscode'],
  },
  {
    // The worker has no module loader: one file without a single import.
    ...common,
    entryPoints: { 'server.worker': 'server/src/main.worker.ts' },
    platform: 'browser',
    format: 'iife',
  },
  {
    ...common,
    entryPoints: { handout: 'client/handout/handout.ts' },
    platform: 'browser',
    format: 'iife',
    // It travels with every page that is made.
    minify: true,
    sourcemap: false,
  },
  {
    ...common,
    entryPoints: { preview: 'client/webview/preview-in-editor.ts' },
    platform: 'browser',
    format: 'iife',
  },
  {
    ...common,
    entryPoints: { 'preview-engine': 'client/webview/engine.worker.ts' },
    platform: 'browser',
    format: 'iife',
    // Read anew by every preview that is opened.
    minify: true,
  },
  {
    ...common,
    entryPoints: { compare: 'client/webview/compare.ts' },
    platform: 'browser',
    format: 'iife',
  },
];

/** What is built, for tests and benchmarks that build one of them for themselves. */
export const bundles = known.filter((bundle) => Object.values(bundle.entryPoints).every((file) => existsSync(file)));

/** What the command line reads as it is: pictures need a renderer and a font. */
const copied = {
  'resvg.wasm': '@resvg/resvg-wasm/index_bg.wasm',
  'DejaVuSans.ttf': 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf',
  'DejaVuSans-Bold.ttf': 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf',
  'DejaVu-LICENSE.txt': 'dejavu-fonts-ttf/LICENSE',
};

/** @param {string} folder */
export function copyAssets(folder) {
  for (const [name, source] of Object.entries(copied)) cpSync(`node_modules/${source}`, `${folder}/${name}`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  rmSync('dist', { recursive: true, force: true });
  mkdirSync('dist');
  copyAssets('dist');
  const contexts = await Promise.all(bundles.map((bundle) => context(bundle)));
  if (process.argv.includes('--watch')) {
    await Promise.all(contexts.map((one) => one.watch()));
  } else {
    await Promise.all(contexts.map((one) => one.rebuild()));
    await Promise.all(contexts.map((one) => one.dispose()));
  }
}
