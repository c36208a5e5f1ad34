/**
 * A real VS Code with a Node extension host, from the package registry alone: code-server 4.100.3, which is VS Code 1.100.3. It
 * is some 330 MB, fetched once into `.work/node-host`.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';

const version = '4.100.3';
const home = path.resolve(import.meta.dirname, '../../../.work/node-host');

/**
 * Path of the program that serves it. Throws what the package manager said where it cannot be installed.
 * @returns {string}
 */
export function installNodeHost() {
  const done = path.join(home, `.installed-${version}`);
  const program = path.join(home, 'node_modules/code-server/out/node/entry.js');
  if (existsSync(done)) return program;
  rmSync(home, { recursive: true, force: true });
  mkdirSync(home, { recursive: true });
  writeFileSync(path.join(home, 'package.json'), '{ "private": true }\n');
  const code = path.join(home, 'node_modules/code-server/lib/vscode');
  // Its own install script fetches binaries from elsewhere: what it installs is installed here without it.
  npm(home, ['install', `code-server@${version}`, '@vscode/ripgrep@1.18.0', '--ignore-scripts']);
  npm(code, ['install', '--omit=dev', '--ignore-scripts']);
  npm(path.join(code, 'extensions'), ['install', '--omit=dev', '--ignore-scripts']);
  // Needed to start, and to keep its log clean.
  npm(home, ['rebuild', 'argon2']);
  npm(code, ['rebuild', '@vscode/spdlog', 'native-watchdog']);
  const search = createRequire(path.join(home, 'package.json'))('@vscode/ripgrep').rgPath;
  cpSync(search, path.join(code, 'node_modules/@vscode/ripgrep/bin/rg'));
  if (!existsSync(path.join(code, 'node_modules.asar')))
    symlinkSync('node_modules', path.join(code, 'node_modules.asar'), 'junction');
  writeFileSync(done, '');
  return program;
}

/**
 * @param {string} cwd
 * @param {readonly string[]} args
 */
function npm(cwd, args) {
  const quiet = ['--no-audit', '--no-fund', '--loglevel=error'];
  const { status, stderr, error } = spawnSync('npm', [...args, ...quiet], {
    cwd,
    encoding: 'utf8',
    stdio: ['ignore', 'ignore', 'pipe'],
    shell: process.platform === 'win32',
    timeout: 600_000,
  });
  if (status !== 0) throw new Error(`npm ${args.join(' ')} failed: ${error?.message ?? stderr.trim()}`);
}
