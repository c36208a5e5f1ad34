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

export async function bundle(entry: 'server.node' | 'server.worker' | 'springwright'): Promise<Bundle> {
  const options = (bundles as unknown as BuildOptions[]).find(({ entryPoints }) => entry in (entryPoints as object));
  if (options === undefined) throw new Error(`esbuild.mjs builds no ${entry}.`);
  const outdir = mkdtempSync(join(tmpdir(), 'springwright-'));
  const source = (options.entryPoints as Record<string, string>)[entry];
  const { metafile } = await build({
    ...options,
    absWorkingDir: root,
    entryPoints: { [entry]: source },
    outdir,
    metafile: true,
  });
  return { file: join(outdir, `${entry}${options.outExtension?.['.js'] ?? '.js'}`), metafile };
}
