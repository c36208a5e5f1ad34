/** `npm start`'s command line: options, working copy, ports and messages. */
import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readFile, realpath, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { readOptions } from '../../client/browser/options.mjs';
import { startServer } from '../../client/browser/server.mjs';
import { prepareWorkingCopy } from '../../client/browser/working-copy.mjs';
import { serveFolder } from './served-folder';

let root: string;
beforeEach(async () => {
  root = await realpath(await mkdtemp(path.join(tmpdir(), 'springwright-start-')));
  await mkdir(path.join(root, 'examples'));
  await writeFile(path.join(root, 'examples', 'loop.spring'), 'original');
});
afterEach(() => rm(root, { recursive: true, force: true }));

test('without options: port 3777, the copy of the examples, the browser opens', () => {
  expect(readOptions([])).toEqual({ port: 3777, folder: undefined, fresh: false, open: true, help: false });
  expect(readOptions(['--no-open', '--port', '0', '--folder', 'x'])).toMatchObject({
    open: false,
    port: 0,
    folder: 'x',
  });
});

test.each([['--port', 'x'], ['--port', '70000'], ['--port', '-1'], ['--unknown'], ['--fresh', '--folder', 'x']])(
  'options %s %s are refused in one line',
  (...args) => {
    let message = '';
    try {
      readOptions(args);
    } catch (error) {
      message = (error as Error).message;
    }
    expect(message).not.toBe('');
    expect(message).not.toContain('\n');
  },
);

test('the examples are copied once, kept on later starts and copied again when asked', async () => {
  const copy = await prepareWorkingCopy({ root });
  expect(copy).toBe(path.join(root, '.work', 'examples'));
  const file = path.join(copy, 'loop.spring');
  await writeFile(file, 'changed');
  await prepareWorkingCopy({ root });
  expect(await readFile(file, 'utf8')).toBe('changed');
  expect(await readFile(path.join(root, 'examples', 'loop.spring'), 'utf8')).toBe('original');
  await prepareWorkingCopy({ root, fresh: true });
  expect(await readFile(file, 'utf8')).toBe('original');
});

test('a folder that is not there is refused', async () => {
  await expect(prepareWorkingCopy({ root, folder: path.join(root, 'absent') })).rejects.toThrow('is not a folder');
});

test('a taken port leads to the next one', async () => {
  const blocker = createServer();
  const taken = await new Promise<number>((resolve) => {
    blocker.listen(0, '127.0.0.1', () => resolve((blocker.address() as { port: number }).port));
  });
  const served = await serveFolder(taken);
  try {
    expect(served.port).toBeGreaterThan(taken);
    const { pathname, search } = new URL(served.address);
    expect((await served.send(pathname + search)).status).toBe(200);
  } finally {
    await served.close();
    blocker.close();
  }
});

test('without a build the message names the command', async () => {
  await expect(startServer({ root, folder: root, port: 0 })).rejects.toThrow(
    /dist\/.* is missing: run "npm run build"/,
  );
});

test('a mistake ends the command with one line and exit code 1', async () => {
  const start = path.resolve(import.meta.dirname, '../../client/browser/start.mjs');
  const failed = await promisify(execFile)(process.execPath, [start, '--port', 'many']).catch((error) => error);
  expect(failed.code).toBe(1);
  expect(failed.stderr.trim().split('\n')).toEqual([
    '--port many is not a port: a whole number from 0 to 65535 was expected.',
  ]);
});
