/** Where a command's files are read: in the working folder, or in a revision of its git repository. */
import { dirname } from 'node:path';
import type { FoundFiles } from '#host/find-files';
import type { FileText } from '#host/spring-file';
import type { CliHost } from './run-report';

export interface FileSource {
  /** As messages show a file of it. */
  shown(path: string): string;
  /** By absolute path; undefined where there is no such file. */
  readFile(path: string): Promise<FileText | undefined>;
  /** The files that a path stands for. */
  find(path: string): Promise<FoundFiles>;
}

/** @param others  whether a file may be missing, as it is to be found in another source */
export function workingFolder(host: CliHost, others: boolean): FileSource {
  return {
    shown: host.displayPath,
    async readFile(path) {
      const content = await host.readFile(path);
      return others && 'unreadable' in content && content.missing ? undefined : content;
    },
    find: (path) => host.findFiles([path]),
  };
}

/** @param near  a file or folder of the repository; in one line why there is no such revision */
export async function revisionOf(
  revision: string,
  near: string,
  host: CliHost,
): Promise<FileSource | { readonly mistake: string }> {
  const full = host.absolutePath(near);
  const opened = await host.openRevision(revision, near.endsWith('.spring') ? dirname(full) : full);
  if ('mistake' in opened) return opened;
  return {
    shown: (path) => `${revision}:${host.displayPath(path)}`,
    readFile: opened.readFile,
    async find(path) {
      const below = host.absolutePath(path);
      const files = path.endsWith('.spring') ? [below] : await opened.filesBelow(below);
      return { files, mistakes: [] };
    },
  };
}
