/** Finds a browser for the end-to-end tests, or gets one where that works. */
import { spawnSync } from 'node:child_process';
import { accessSync, constants, statSync } from 'node:fs';
import path from 'node:path';
import { chromium } from 'playwright-core';

/** Names a browser of Chromium's kind, before anything else that is tried. */
export const environmentVariable = 'SPRINGWRIGHT_BROWSER';

/**
 * Path of an installed Chromium, Chrome or Edge; else of one that playwright's own installer or, for root on Debian, the
 * package manager brings. Throws an error of one line where all of that fails.
 * @returns {string}
 */
export function findChromium() {
  const named = process.env[environmentVariable];
  if (named) {
    if (!isProgram(named)) throw new Error(`${environmentVariable} names ${named}, which is not a program.`);
    return named;
  }
  const found = installed() ?? fromPlaywright() ?? fromDebian();
  if (found) return found;
  throw new Error(
    'The end-to-end tests need Chromium, Chrome or Edge: install one (Debian: "apt-get install chromium"; ' +
      `anywhere: "npx playwright-core install --with-deps chromium") or name one in ${environmentVariable}.`,
  );
}

/** @returns {string | undefined} */
function installed() {
  const folders = (process.env.PATH ?? '').split(path.delimiter).filter((folder) => folder !== '');
  const onPath = folders.flatMap((folder) => names.map((name) => path.join(folder, name)));
  return [...onPath, ...usualPlaces(), chromium.executablePath()].find(isProgram);
}

const names = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'chrome',
  'microsoft-edge-stable',
  'microsoft-edge',
  'msedge',
].flatMap((name) => (process.platform === 'win32' ? [`${name}.exe`] : [name]));

function usualPlaces() {
  const { HOME = '', LOCALAPPDATA = '', PROGRAMFILES = '', 'PROGRAMFILES(X86)': PROGRAMFILES_X86 = '' } = process.env;
  if (process.platform === 'darwin') {
    return ['', HOME].flatMap((home) =>
      ['Chromium', 'Google Chrome', 'Microsoft Edge'].map(
        (name) => `${home}/Applications/${name}.app/Contents/MacOS/${name}`,
      ),
    );
  }
  if (process.platform === 'win32') {
    return [PROGRAMFILES, PROGRAMFILES_X86, LOCALAPPDATA]
      .filter((folder) => folder !== '')
      .flatMap((folder) => [
        path.join(folder, 'Google', 'Chrome', 'Application', 'chrome.exe'),
        path.join(folder, 'Microsoft', 'Edge', 'Application', 'msedge.exe'),
        path.join(folder, 'Chromium', 'Application', 'chrome.exe'),
      ]);
  }
  return [
    '/snap/bin/chromium',
    '/opt/google/chrome/chrome',
    '/opt/microsoft/msedge/msedge',
    '/usr/lib/chromium/chromium',
  ];
}

/** The browser driver's own installer. @returns {string | undefined} */
function fromPlaywright() {
  const command = path.join(import.meta.dirname, '../../node_modules/playwright-core/cli.js');
  run(process.execPath, [command, 'install', 'chromium']);
  const file = chromium.executablePath();
  return isProgram(file) && starts(file) ? file : undefined;
}

/** @returns {string | undefined} */
function fromDebian() {
  if (process.getuid?.() !== 0 || !run('apt-get', ['--version'])) return undefined;
  run('apt-get', ['update', '-qq']);
  run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium']);
  return installed();
}

/**
 * A downloaded browser may lack libraries of the system.
 * @param {string} file
 */
const starts = (file) => run(file, ['--version']);

/**
 * @param {string} command
 * @param {readonly string[]} args
 */
function run(command, args) {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  return spawnSync(command, args, { env, stdio: 'ignore', timeout: 300_000 }).status === 0;
}

/** @param {string} file */
function isProgram(file) {
  try {
    accessSync(file, constants.X_OK);
    return statSync(file).isFile();
  } catch {
    return false;
  }
}
