/** Builds the command as it ships and runs it in a process of its own. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { build } from 'esbuild';

const root = resolve(import.meta.dirname, '../..');

export interface Command {
  /** A fresh folder in which the command runs. */
  readonly folder: string;
  run(...args: string[]): { readonly code: number | null; readonly out: string; readonly err: string };
  /** Writes a file below the folder. */
  write(path: string, content: string | Uint8Array): void;
  remove(): void;
}

export async function buildCommand(): Promise<Command> {
  const place = realpathSync(mkdtempSync(join(tmpdir(), 'springwright-cli-')));
  const folder = join(place, 'work');
  mkdirSync(folder);
  const bundle = join(place, 'springwright.cjs');
  await build({
    entryPoints: [join(root, 'server/src/main.cli.ts')],
    outfile: bundle,
    bundle: true,
    platform: 'node',
    format: 'cjs',
    target: 'es2022',
    loader: { '.spring': 'text' },
    banner: { js: '#!/usr/bin/env node' },
    absWorkingDir: root,
  });
  return {
    folder,
    run(...args) {
      const result = spawnSync(process.execPath, [bundle, ...args], { cwd: folder, encoding: 'utf8', maxBuffer: 1e8 });
      return { code: result.status, out: result.stdout, err: result.stderr };
    },
    write(path, content) {
      const file = join(folder, path);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, content);
    },
    remove: () => rmSync(place, { recursive: true, force: true }),
  };
}
