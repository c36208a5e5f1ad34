/** Builds one bundle as esbuild.mjs would, into a folder of its own: tests do not wait for, or disturb, `dist`. */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { type BuildOptions, build, type Metafile } from 'esbuild';
import { bundles } from '../../esbuild.mjs';

const root = resolve(import.meta.dirname, '../..');

export interface Bundle {
  readonly file: string;
  readonly metafile: Metafile;
}

/** @param beside  where it is to lie, a fresh folder where nothing is said */
export async function bundle(
  entry: 'server.node' | 'server.worker' | 'springwright' | 'handout',
  beside = mkdtempSync(join(tmpdir(), 'springwright-')),
): Promise<Bundle> {
  const options = (bundles as unknown as BuildOptions[]).find(({ entryPoints }) => entry in (entryPoints as object));
  if (options === undefined) throw new Error(`esbuild.mjs builds no ${entry}.`);
  const source = (options.entryPoints as Record<string, string>)[entry];
  const { metafile } = await build({
    ...options,
    absWorkingDir: root,
    entryPoints: { [entry]: source },
    outdir: beside,
    metafile: true,
  });
  return { file: join(beside, `${entry}${options.outExtension?.['.js'] ?? '.js'}`), metafile };
}
