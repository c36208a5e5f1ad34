/**
 * Files as a revision of their git repository has them. Git is started for it, with commands that run nothing which the
 * repository's own settings name: no hooks, no filters, no drivers for differences.
 */
import { execFile } from 'node:child_process';
import { realpath, stat } from 'node:fs/promises';
import { dirname, isAbsolute, relative, resolve, sep } from 'node:path';
import { decodeSpringFile, type FileText, largestFile, tooLarge } from './spring-file';

export interface GitRevision {
  /** By its path in the working folder; undefined where the revision has no such file. */
  readFile(path: string): Promise<FileText | undefined>;
  /** The `.spring` files below a folder, by their paths in the working folder; links are none. */
  filesBelow(path: string): Promise<readonly string[]>;
}

/** The revision `name` of the repository that holds the folder, or in one line why there is none. */
export async function openRevision(name: string, asked: string): Promise<GitRevision | { readonly mistake: string }> {
  const folder = await nearestFolder(asked);
  const top = await git(folder, ['rev-parse', '--show-toplevel']);
  if (!('out' in top)) return { mistake: top.missing ? noGit : repositoryMistake(top.err) };
  const commit = await git(folder, ['rev-parse', '--verify', '--quiet', '--end-of-options', `${name}^{commit}`]);
  if (!('out' in commit)) {
    return { mistake: `This repository has no revision "${name}". Give a commit, a branch or a tag, such as HEAD~1.` };
  }
  const [root, real] = await Promise.all([realpath(line(top.out)), realpath(folder)]);
  /** Below the root of the repository, as git writes it; undefined outside of it. */
  const insideOf = (path: string): string | undefined => {
    const inside = relative(root, resolve(real, relative(folder, path)));
    return inside === '..' || inside.startsWith(`..${sep}`) || isAbsolute(inside)
      ? undefined
      : inside.split(sep).join('/');
  };
  /** Contents that were read together, by path inside the repository. */
  const known = new Map<string, FileText>();
  return {
    async readFile(file) {
      const inside = insideOf(file);
      if (inside === undefined) return undefined;
      const content = known.get(inside);
      if (content !== undefined) return content;
      const blob = await git(root, ['rev-parse', '--verify', '--quiet', `${line(commit.out)}:${inside}`]);
      if (!('out' in blob)) return undefined;
      const read = await git(root, ['cat-file', 'blob', line(blob.out)]);
      if ('out' in read) return decodeSpringFile(read.out);
      return { unreadable: read.large ? tooLarge : `cannot be read: git says "${read.err}"` };
    },
    async filesBelow(path) {
      const inside = insideOf(path);
      if (inside === undefined) return [];
      const within = inside === '' ? [] : ['--', inside];
      const listed = await git(root, ['ls-tree', '-r', '-z', '-l', '--full-tree', line(commit.out), ...within], {
        maxBuffer: largestList,
      });
      if (!('out' in listed)) throw new Error(`git cannot list the files of ${name}: ${listed.err}`);
      // "mode type object size<tab>path", each ended by a zero byte; files have the modes 100644 and 100755.
      const entries = new TextDecoder().decode(listed.out).split('\0');
      const files = entries.flatMap((entry) => {
        const [, object, size, name] = /^100\d{3} blob (\S+) +(\d+)\t(.*\.spring)$/s.exec(entry) ?? [];
        if (name === undefined || name.split('/').some((part) => part.startsWith('.') || part === 'node_modules'))
          return [];
        return [{ object, size: Number(size), name }];
      });
      await readTogether(
        root,
        files.filter(({ size }) => size <= largestFile),
        known,
      );
      return files.map(({ name }) => resolve(folder, relative(real, resolve(root, name))));
    },
  };
}

/** Of the list of a repository's files, and of those that are read together, in bytes. */
const largestList = 256 * 1024 * 1024;

/** One process for all of them: a process for each takes longer than all else. What is not read here is read by itself. */
async function readTogether(
  root: string,
  files: readonly { readonly object: string; readonly name: string }[],
  known: Map<string, FileText>,
): Promise<void> {
  const input = files.map(({ object }) => `${object}\n`).join('');
  const read = await git(root, ['cat-file', '--batch'], { maxBuffer: largestList, input });
  if (!('out' in read)) return;
  // "object type size", a line feed, so many bytes, a line feed.
  let start = 0;
  for (const { object, name } of files) {
    const end = read.out.indexOf(10, start);
    const [is, type, size] = new TextDecoder().decode(read.out.subarray(start, end)).split(' ');
    if (is !== object || type !== 'blob') return;
    known.set(name, decodeSpringFile(read.out.subarray(end + 1, end + 1 + Number(size))));
    start = end + 1 + Number(size) + 1;
  }
}

const noGit = 'git is not installed: revisions are read with it.';

function repositoryMistake(said: string): string {
  return /not a git repository/i.test(said)
    ? 'This file is not in a git repository: there are no revisions of it.'
    : `git cannot read the repository of this file: ${said}`;
}

/** The file's folder may be gone, as a file of an earlier revision may. */
async function nearestFolder(folder: string): Promise<string> {
  const known = await stat(folder).then(
    (kind) => kind.isDirectory(),
    () => false,
  );
  return known || dirname(folder) === folder ? folder : nearestFolder(dirname(folder));
}

type GitAnswer =
  | { readonly out: Uint8Array }
  | { readonly err: string; readonly missing: boolean; readonly large: boolean };

function git(
  cwd: string,
  args: readonly string[],
  { maxBuffer = largestFile, input = '' }: { readonly maxBuffer?: number; readonly input?: string } = {},
): Promise<GitAnswer> {
  // In one language, and never fetching what a partial copy of a repository lacks.
  const env = { ...process.env, LC_ALL: 'C', GIT_NO_LAZY_FETCH: '1', GIT_TERMINAL_PROMPT: '0' };
  const options = { cwd, env, encoding: 'buffer', maxBuffer, windowsHide: true } as const;
  return new Promise((settle) => {
    const child = execFile('git', args, options, (error, out, err) => {
      if (error === null) settle({ out });
      else {
        const said = line(err).replace(/^fatal: /, '');
        const large = error.code === ('ERR_CHILD_PROCESS_STDIO_MAXBUFFER' as typeof error.code);
        settle({ err: said, missing: error.code === ('ENOENT' as typeof error.code), large });
      }
    });
    // Where git is not there, or ends before it has read all, its answer above says so.
    child.stdin?.on('error', () => undefined);
    child.stdin?.end(input);
  });
}

function line(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes).split(/\r?\n/)[0];
}
