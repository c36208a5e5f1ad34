/** The packed extension, installed in a VS Code with a Node extension host that serves one folder. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { packageContents } from '../../../client/package/contents.mjs';
import { zip } from '../../../client/package/zip.mjs';
import type { StartedHost } from '../workbench';
import { installNodeHost } from './install.mjs';

const root = path.resolve(import.meta.dirname, '../../..');

const settings = {
  'security.workspace.trust.enabled': false,
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.editor.enablePreview': false,
  'window.autoDetectColorScheme': true,
  'telemetry.telemetryLevel': 'off',
  'extensions.autoUpdate': false,
  'extensions.autoCheckUpdates': false,
  'extensions.ignoreRecommendations': true,
  'update.mode': 'none',
  'git.autofetch': false,
  'git.openRepositoryInParentFolders': 'never',
  'editor.minimap.enabled': false,
};

/** @param state  an empty folder for everything that the host keeps */
export async function startNodeHost(folder: string, state: string): Promise<StartedHost> {
  const program = installNodeHost();
  const vsix = path.join(state, 'springwright.vsix');
  const user = path.join(state, 'user');
  mkdirSync(path.join(user, 'User'), { recursive: true });
  writeFileSync(path.join(user, 'User', 'settings.json'), JSON.stringify(settings));
  writeFileSync(path.join(state, 'config.yaml'), '');
  writeFileSync(vsix, zip(packageContents(root)));
  const kept = ['--config', path.join(state, 'config.yaml'), '--user-data-dir', user];
  const args = [program, ...kept, '--extensions-dir', path.join(state, 'extensions')];
  // Nothing of the user's own is read or written, and no shop of extensions is asked.
  const none = JSON.stringify({ serviceUrl: '', itemUrl: '', controlUrl: '', recommendationsUrl: '' });
  const env = {
    ...process.env,
    HOME: state,
    EXTENSIONS_GALLERY: none,
    GIT_CONFIG_GLOBAL: path.join(state, 'gitconfig'),
  };
  const installed = spawnSync(process.execPath, [...args, '--install-extension', vsix], { env, encoding: 'utf8' });
  if (installed.status !== 0) throw new Error(`The extension cannot be installed: ${installed.stderr}`);
  const quiet = ['--disable-telemetry', '--disable-update-check', '--disable-workspace-trust'];
  const listen = ['--auth', 'none', '--bind-addr', '127.0.0.1:0', '--disable-getting-started-override'];
  const host = spawn(process.execPath, [...args, ...listen, ...quiet, folder], { env });
  const stopped = new Promise<void>((resolve) => host.once('exit', () => resolve()));
  const address = await addressOf(host);
  return {
    address: `${address.replace(/\/$/, '')}/?folder=${encodeURIComponent(folder)}`,
    async stop() {
      host.kill();
      await stopped;
    },
  };
}

async function addressOf(host: ChildProcess): Promise<string> {
  let said = '';
  host.stderr?.on('data', (chunk) => {
    said += chunk;
  });
  for await (const line of createInterface({ input: host.stdout! })) {
    said += `${line}\n`;
    const address = /HTTP server listening on (http:\S+)/.exec(line)?.[1];
    if (address) return address;
  }
  throw new Error(`The host ended without an address: ${said.trim()}`);
}
