/** The system's reason without the path, which would be of this machine. */
export function systemReason(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const known: Record<string, string> = {
    ENOENT: 'there is no such file or folder',
    EEXIST: 'a file of this name is in the way',
    ENOTDIR: 'a part of its path is no folder',
    EACCES: 'no permission',
    EPERM: 'no permission',
    EROFS: 'the disk can only be read',
    ENOSPC: 'the disk is full',
    ELOOP: 'its links lead in a circle',
    EISDIR: 'it is a folder',
    EMFILE: 'too many open files',
  };
  return known[code] ?? (code === '' ? 'unknown reason' : code);
}
