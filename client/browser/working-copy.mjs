import { cp, readdir, realpath, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';

/**
 * The folder that is served, as a real path. Without a folder of the user's own it is a copy of the examples, made once and
 * kept on later starts, so that trying things out never changes the examples themselves.
 * @param {object} choice
 * @param {string} choice.root Root of the project.
 * @param {string} [choice.folder] A folder of the user's own.
 * @param {boolean} [choice.fresh] Copy the examples again.
 * @returns {Promise<string>}
 */
export async function prepareWorkingCopy({ root, folder, fresh = false }) {
  if (folder !== undefined) {
    if (!(await isDirectory(folder))) throw new Error(`--folder ${folder} is not a folder.`);
    return realpath(folder);
  }
  const examples = path.join(root, 'examples');
  const copy = path.join(root, '.work', 'examples');
  if (fresh) await rm(copy, { recursive: true, force: true });
  if (!(await isDirectory(copy))) {
    // Under another name until it is whole: a start that is broken off leaves no half copy to be kept.
    const unfinished = `${copy}.unfinished`;
    await rm(unfinished, { recursive: true, force: true });
    await cp(examples, unfinished, { recursive: true });
    await rename(unfinished, copy);
  }
  return realpath(copy);
}

/**
 * The design that the editor opens on a first visit: the first in the order of names.
 * @param {string} folder
 * @returns {Promise<string | undefined>}
 */
export async function firstDesign(folder) {
  const entries = await readdir(folder, { withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile() && entry.name.endsWith('.spring'))
    .map((entry) => entry.name)
    .sort()[0];
}

/** @param {string} folder */
async function isDirectory(folder) {
  try {
    return (await stat(folder)).isDirectory();
  } catch {
    return false;
  }
}
