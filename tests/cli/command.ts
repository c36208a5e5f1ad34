/** Builds the command as it ships and runs it in a process of its own. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { copyAssets } from '../../esbuild.mjs';
import { bundle } from '../lsp/bundle';

export interface Outcome {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export interface Command {
  /** A fresh folder in which the command runs. */
  readonly folder: string;
  /** The built file that Node runs. */
  readonly program: string;
  run(...args: string[]): Outcome;
  /** With a text piped in. */
  pipe(input: string, ...args: string[]): Outcome;
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
  const execute = (input: string, args: readonly string[]): Outcome => {
    const options = { cwd: folder, encoding: 'utf8', maxBuffer: 1e8, input } as const;
    const result = spawnSync(process.execPath, [file, ...args], options);
    return { code: result.status, out: result.stdout, err: result.stderr };
  };
  return {
    folder,
    program: file,
    run: (...args) => execute('', args),
    pipe: (input, ...args) => execute(input, args),
    write(path, content) {
      const file = join(folder, path);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, content);
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
