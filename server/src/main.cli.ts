/** The `springwright` command. */
import { readFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { usageError } from '#cli/exit-codes';
import { runCli } from '#cli/program';
import { terminalPaint } from '#cli/terminal-paint';
import { terminalProgress } from '#cli/terminal-progress';
import { displayPath, filesBelow, findSpringFiles } from '#host/find-files';
import { openRevision } from '#host/git-revision';
import { readSpringFile } from '#host/spring-file';
import { removeFile, writeNewFile, writeWholeFile } from '#host/write-file';
import { version } from '../../package.json';

const cwd = process.cwd();

/** In bytes: figures of a file with many appliances. */
const largestRecord = 64 * 1024 * 1024;

// A reader that has seen enough (`| head`) closes the pipe; that is no error of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

runCli(process.argv.slice(2), version, {
  findFiles: (paths) => findSpringFiles(paths, cwd),
  readFile: (path) => readSpringFile(path),
  readRecord: (path) => readSpringFile(path, largestRecord),
  filesBelow: (folder, ending) => filesBelow(folder, ending, cwd),
  openRevision,
  absolutePath: (path) => resolve(cwd, path),
  readBuilt: (name) => readFile(join(dirname(fileURLToPath(import.meta.url)), name)),
  displayPath: (path) => displayPath(path, cwd),
  uriOf: (path) => pathToFileURL(path).href,
  pathOf: (uri) => fileURLToPath(uri),
  removeFile: (path) => removeFile(path, cwd),
  writeFile: (path, bytes, options) => writeWholeFile(path, bytes, cwd, options),
  writeNewFile: (path, bytes) => writeNewFile(path, bytes, cwd),
  writeOut: (text) => process.stdout.write(text),
  writeBytes: (bytes) => process.stdout.write(bytes),
  writeErr: (text) => process.stderr.write(text),
  paint: terminalPaint(process.stdout, process.env.NO_COLOR),
  progress: terminalProgress(process.stderr),
}).then(
  // The exit code is set rather than the process ended, so that everything written reaches a slow pipe.
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.stderr.write(`springwright failed: ${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = usageError;
  },
);
