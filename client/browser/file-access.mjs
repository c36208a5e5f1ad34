import { constants } from 'node:fs';
import { lstat, mkdir, open, readdir, rename, rm } from 'node:fs/promises';
import path from 'node:path';

/**
 * Reading and writing inside one folder, and nowhere else.
 *
 * Every path from outside goes through `locate`, which names the rules: absolute within the folder, `/` between segments, no
 * `.` or `..`, nothing a platform reads as something else, nothing below `.git`, and no symbolic link anywhere on the way.
 * Links are not followed at all, wherever they lead, because a link that leads inside today can lead outside tomorrow.
 */

/** Kinds of failure, named as the editor names them. */
/** @typedef {'FileNotFound' | 'FileExists' | 'FileNotADirectory' | 'FileIsADirectory' | 'NoPermissions'} FailureCode */

/** @typedef {{ type: 'file' | 'folder', size: number, created: number, modified: number }} FileFacts */

export class FileFailure extends Error {
  /**
   * @param {FailureCode} code
   * @param {string} message
   */
  constructor(code, message) {
    super(message);
    /** @readonly */
    this.code = code;
  }
}

/**
 * @param {string} folder Real path of the folder.
 */
export function createFileAccess(folder) {
  return {
    /**
     * @param {string} requested
     * @returns {Promise<FileFacts>}
     */
    async stat(requested) {
      return facts(await existing(folder, requested));
    },

    /**
     * Names and kinds in a folder. What is neither a file nor a folder (links, sockets) is not listed.
     * @param {string} requested
     * @returns {Promise<[string, 'file' | 'folder'][]>}
     */
    async list(requested) {
      const { location, status } = await existing(folder, requested);
      if (!status.isDirectory()) throw new FileFailure('FileNotADirectory', `${requested} is not a folder.`);
      const entries = await readdir(location, { withFileTypes: true });
      /** @type {[string, 'file' | 'folder'][]} */
      const listed = [];
      for (const entry of entries) {
        if (entry.name === '.git') continue;
        if (entry.isDirectory()) listed.push([entry.name, 'folder']);
        else if (entry.isFile()) listed.push([entry.name, 'file']);
      }
      return listed;
    },

    /** @param {string} requested */
    async read(requested) {
      const { location, status } = await existing(folder, requested);
      if (!status.isFile()) throw new FileFailure('FileIsADirectory', `${requested} is not a file.`);
      const handle = await open(location, constants.O_RDONLY | noFollow);
      try {
        return await handle.readFile();
      } finally {
        await handle.close();
      }
    },

    /**
     * @param {string} requested
     * @param {Uint8Array} content
     * @param {{ create: boolean, overwrite: boolean }} options
     * @returns {Promise<void>}
     */
    async write(requested, content, { create, overwrite }) {
      const { location, status } = await locate(folder, requested);
      if (status?.isDirectory()) throw new FileFailure('FileIsADirectory', `${requested} is a folder.`);
      if (status && !status.isFile()) throw new FileFailure('NoPermissions', `${requested} is not a plain file.`);
      if (!status && !create) throw missing(requested);
      if (status && !overwrite) throw new FileFailure('FileExists', `${requested} exists already.`);
      const createFlag = create ? constants.O_CREAT : 0;
      const handle = await open(location, constants.O_WRONLY | constants.O_TRUNC | createFlag | noFollow);
      try {
        await handle.writeFile(content);
      } finally {
        await handle.close();
      }
    },

    /** @param {string} requested */
    async makeFolder(requested) {
      const { location, status } = await locate(folder, requested);
      if (status) throw new FileFailure('FileExists', `${requested} exists already.`);
      await mkdir(location);
    },

    /**
     * @param {string} requested
     * @param {{ recursive: boolean }} options
     */
    async remove(requested, { recursive }) {
      const { location, status } = await existing(folder, requested);
      if (location === folder) throw new FileFailure('NoPermissions', 'The folder itself cannot be deleted.');
      if (status.isDirectory() && !recursive && (await readdir(location)).length > 0) {
        throw new FileFailure('NoPermissions', `${requested} is not empty.`);
      }
      await rm(location, { recursive: status.isDirectory() });
    },

    /**
     * @param {string} from
     * @param {string} to
     * @param {{ overwrite: boolean }} options
     */
    async rename(from, to, { overwrite }) {
      const source = await existing(folder, from);
      const target = await locate(folder, to);
      if (source.location === folder || target.location === folder) {
        throw new FileFailure('NoPermissions', 'The folder itself cannot be renamed.');
      }
      if (target.status && !overwrite) throw new FileFailure('FileExists', `${to} exists already.`);
      await rename(source.location, target.location);
    },
  };
}

/** @typedef {ReturnType<typeof createFileAccess>} FileAccess */

// Windows has no such flag; there the walk in `locate` is the check.
const noFollow = constants.O_NOFOLLOW ?? 0;

/**
 * Where a requested path lies on disk, and what is there, if anything. Throws `NoPermissions` for a path that is not plainly
 * inside the folder, `FileNotFound` where a folder on the way is missing.
 * @param {string} folder
 * @param {string} requested
 * @returns {Promise<{ location: string, status: import('node:fs').Stats | undefined }>}
 */
async function locate(folder, requested) {
  const segments = readSegments(requested);
  let location = folder;
  let status = await lstat(folder);
  for (const [index, segment] of segments.entries()) {
    location = path.join(location, segment);
    const found = await lstatOrUndefined(location);
    if (!found) {
      if (index < segments.length - 1) throw missing(requested);
      return { location, status: undefined };
    }
    if (found.isSymbolicLink()) throw refused(`${requested} leads through a symbolic link.`);
    status = found;
  }
  return { location, status };
}

/**
 * @param {string} requested
 * @returns {string[]}
 */
function readSegments(requested) {
  if (!requested.startsWith('/')) throw refused('A path starts with "/".');
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is refused.
  if (/[\\:\x00-\x1f]/.test(requested)) throw refused('A path has no backslash, colon or control character.');
  const segments = requested.split('/').filter((segment) => segment !== '');
  for (const segment of segments) {
    if (segment === '.' || segment === '..') throw refused('A path has no "." or ".." segment.');
    // Windows drops dots and spaces at the end of a name, so that "...", ".. " or ".git." would be read as other names.
    if (/[. ]$/.test(segment)) throw refused('A name does not end in a dot or a space.');
    // Hooks below .git are programs that run on their own; an editor page has no business there.
    if (segment.toLowerCase() === '.git') throw refused('Nothing below .git is served.');
  }
  return segments;
}

/**
 * @param {string} folder
 * @param {string} requested
 */
async function existing(folder, requested) {
  const { location, status } = await locate(folder, requested);
  if (!status) throw missing(requested);
  return { location, status };
}

/** @param {string} location */
async function lstatOrUndefined(location) {
  try {
    return await lstat(location);
  } catch (error) {
    const { code } = /** @type {NodeJS.ErrnoException} */ (error);
    if (code === 'ENOENT' || code === 'ENOTDIR') return undefined;
    throw error;
  }
}

/**
 * @param {{ status: import('node:fs').Stats }} found
 * @returns {FileFacts}
 */
function facts({ status }) {
  return {
    type: status.isDirectory() ? 'folder' : 'file',
    size: status.size,
    created: Math.round(status.birthtimeMs),
    modified: Math.round(status.mtimeMs),
  };
}

/** @param {string} requested */
const missing = (requested) => new FileFailure('FileNotFound', `${requested} does not exist.`);

/** @param {string} reason */
const refused = (reason) => new FileFailure('NoPermissions', reason);
