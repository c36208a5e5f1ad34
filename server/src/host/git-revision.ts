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
  return {
    async readFile(file) {
      const inside = insideOf(file);
      if (inside === undefined) return undefined;
      const blob = await git(root, ['rev-parse', '--verify', '--quiet', `${line(commit.out)}:${inside}`]);
      if (!('out' in blob)) return undefined;
      const content = await git(root, ['cat-file', 'blob', line(blob.out)]);
      if ('out' in content) return decodeSpringFile(content.out);
      return { unreadable: content.large ? tooLarge : `cannot be read: git says "${content.err}"` };
    },
    async filesBelow(path) {
      const inside = insideOf(path);
      if (inside === undefined) return [];
      const within = inside === '' ? [] : ['--', inside];
      const listed = await git(root, ['ls-tree', '-r', '-z', '--full-tree', line(commit.out), ...within], largestList);
      if (!('out' in listed)) throw new Error(`git cannot list the files of ${name}: ${listed.err}`);
      // "mode type object<tab>path", each ended by a zero byte; files have the modes 100644 and 100755.
      const entries = new TextDecoder().decode(listed.out).split('\0');
      const names = entries.flatMap((entry) => /^100\d{3} blob \S+\t(.*\.spring)$/s.exec(entry)?.[1] ?? []);
      return names
        .filter((file) => !file.split('/').some((part) => part.startsWith('.') || part === 'node_modules'))
        .map((file) => resolve(folder, relative(real, resolve(root, file))));
    },
  };
}

/** Of the list of a repository's files, in bytes. */
const largestList = 256 * 1024 * 1024;

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

function git(cwd: string, args: readonly string[], maxBuffer = largestFile): Promise<GitAnswer> {
  // In one language, and never fetching what a partial copy of a repository lacks.
  const env = { ...process.env, LC_ALL: 'C', GIT_NO_LAZY_FETCH: '1', GIT_TERMINAL_PROMPT: '0' };
  const options = { cwd, env, encoding: 'buffer', maxBuffer, windowsHide: true } as const;
  return new Promise((settle) => {
    execFile('git', args, options, (error, out, err) => {
      if (error === null) settle({ out });
      else {
        const said = line(err).replace(/^fatal: /, '');
        const large = error.code === ('ERR_CHILD_PROCESS_STDIO_MAXBUFFER' as typeof error.code);
        settle({ err: said, missing: error.code === ('ENOENT' as typeof error.code), large });
      }
    });
  });
}

function line(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes).split(/\r?\n/)[0];
}
