/** Ctrl-C, as the real signal, while the command computes and while it writes: no half file is left. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCommand, type Command } from './command';

const root = resolve(import.meta.dirname, '../..');
let command: Command;
let folder: string;
let writer: string;

beforeAll(async () => {
  command = await buildCommand();
  folder = mkdtempSync(join(tmpdir(), 'springwright-writing-'));
  writer = join(folder, 'writer.mjs');
  // Writes what takes long enough to be interrupted: no sheet or drawing is that large.
  await build({
    stdin: {
      contents: `
        import { writeNewFile, writeWholeFile } from '#host/write-file';
        const [how, path] = process.argv.slice(2);
        const bytes = new Uint8Array(256 * 1024 * 1024).fill(1);
        await (how === 'new' ? writeNewFile : writeWholeFile)(path, bytes, process.cwd());
      `,
      resolveDir: root,
    },
    bundle: true,
    platform: 'node',
    format: 'esm',
    outfile: writer,
  });
});

afterAll(() => {
  command.remove();
  rmSync(folder, { recursive: true });
});

const ended = (child: ChildProcess) =>
  new Promise<[number | null, NodeJS.Signals | null]>((settle) => {
    child.once('exit', (...how) => settle(how));
  });

/** Many appliances, each of which has to be solved: some seconds. */
function longWork(): string {
  const one = readFileSync(join(root, 'examples/06-space-closing-spring.spring'), 'utf8');
  const [, name] = /^appliance (\w+)/m.exec(one)!;
  const variants = Array.from(
    { length: 30 },
    (_, k) => `variant v${k} of ${name} { loop_height = ${8 + k / 100} mm }\n`,
  );
  return `${one}\n${variants.join('')}`;
}

describe('Ctrl-C', () => {
  it('ends the program at once while it computes, and leaves the folder as it was', async () => {
    command.write('long.spring', longWork());
    command.write('sheet.pdf', 'the sheet of yesterday');
    const args = [command.program, 'sheet', 'long.spring', '--appliance', 'v29', '-o', 'sheet.pdf'];
    const child = spawn(process.execPath, args, { cwd: command.folder, stdio: 'ignore' });
    const end = ended(child);
    await wait(1500);
    expect(child.exitCode).toBeNull();
    const asked = performance.now();
    child.kill('SIGINT');
    expect(await end).toEqual([null, 'SIGINT']);
    // All of them would take far longer.
    expect(performance.now() - asked).toBeLessThan(5000);
    expect(readdirSync(command.folder).sort()).toEqual(['long.spring', 'sheet.pdf']);
    expect(readFileSync(join(command.folder, 'sheet.pdf'), 'utf8')).toBe('the sheet of yesterday');
  });

  it.each(['SIGINT', 'SIGTERM'] as const)('leaves the earlier file while a file is written (%s)', async (signal) => {
    const target = join(folder, 'target.bin');
    writeFileSync(target, 'earlier');
    const child = spawn(process.execPath, [writer, 'whole', target], { stdio: 'ignore' });
    const end = ended(child);
    const partial = `${target}.${child.pid}.partial`;
    await begun(partial);
    child.kill(signal);
    expect(await end).toEqual([null, signal]);
    expect(existsSync(partial)).toBe(false);
    expect(readFileSync(target, 'utf8')).toBe('earlier');
  });

  it('leaves nothing of a new file', async () => {
    const target = join(folder, 'new.bin');
    const child = spawn(process.execPath, [writer, 'new', target], { stdio: 'ignore' });
    const end = ended(child);
    await begun(target);
    child.kill('SIGINT');
    expect(await end).toEqual([null, 'SIGINT']);
    expect(existsSync(target)).toBe(false);
  });
});

/** Until some of the file is on disk. */
async function begun(path: string): Promise<void> {
  while (!existsSync(path) || statSync(path).size === 0) await wait(1);
}
