/** Builds the command as it ships and runs it in a process of its own. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { copyAssets } from '../../esbuild.mjs';
import { bundle } from '../lsp/bundle';

export interface Command {
  /** A fresh folder in which the command runs. */
  readonly folder: string;
  run(...args: string[]): { readonly code: number | null; readonly out: string; readonly err: string };
  /** Writes a file below the folder. */
  write(path: string, content: string | Uint8Array): void;
  remove(): void;
}

/** @param also  what else is built, and lies beside it */
export async function buildCommand(...also: readonly 'handout'[]): Promise<Command> {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'springwright-cli-')));
  const { file } = await bundle('springwright');
  await Promise.all(also.map((entry) => bundle(entry, dirname(file))));
  copyAssets(dirname(file));
  return {
    folder,
    run(...args) {
      const result = spawnSync(process.execPath, [file, ...args], { cwd: folder, encoding: 'utf8', maxBuffer: 1e8 });
      return { code: result.status, out: result.stdout, err: result.stderr };
    },
    write(path, content) {
      const file = join(folder, path);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, content);
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
