/** `draw` and `sheet`: one appliance of a file, written to a file or to standard output. */
import type { UnitPreferences } from '#core/units/format';
import { drawAppliance } from '#drawing/appliance';
import { standaloneDrawing } from '#drawing/standalone';
import type { DrawFormat, ExportFormat, Paper } from '#export/formats';
import type { ShapeName } from '#export/shapes';
import { selfContained } from '#workspace/self-contained';
import type { Snapshot, SnapshotAppliance } from '#workspace/snapshot';
import { drawnPixels } from './built-png';
import { failed, ok, usageError } from './exit-codes';
import { fileWorkspace, firstError, obstacle } from './file-workspace';
import type { CliHost } from './run-report';

export interface ExportRequest {
  readonly path: string;
  readonly appliance: string | undefined;
  /** mm from neutral */
  readonly activation: number | undefined;
  readonly units: UnitPreferences;
  /** Standard output where it is absent. */
  readonly output: string | undefined;
}

export type DrawRequest = ExportRequest & {
  readonly format: DrawFormat | 'png';
  readonly shape: ShapeName;
  /** Of a PNG: pixels for each of the drawing's own. */
  readonly scale: number;
};
export type SheetRequest = ExportRequest & {
  readonly paper: Paper;
  readonly card: boolean;
  readonly date: string | undefined;
};

export type HandoutRequest = Pick<ExportRequest, 'path' | 'units' | 'output'>;

interface ReadFile {
  /** Absolute. */
  readonly file: string;
  readonly text: string;
  readonly shown: string;
}

interface Chosen {
  readonly appliance: SnapshotAppliance;
  readonly text: string;
  readonly path: string;
}

export function runDraw(request: DrawRequest, version: string, host: CliHost): Promise<number> {
  const { format, shape } = request;
  if (format === 'png') return runPng(request, host);
  return runExport(request, { format, shape, paper: 'A4' }, version, host);
}

async function runPng(request: DrawRequest, host: CliHost): Promise<number> {
  const chosen = await choose(request, host);
  if (typeof chosen === 'number') return chosen;
  const { activation, units, scale } = request;
  const svg = drawAppliance(chosen.appliance, { activation, units }) ?? '';
  return write(await drawnPixels(standaloneDrawing(svg), scale, host), request, host);
}

export function runSheet(request: SheetRequest, version: string, host: CliHost): Promise<number> {
  const { card, paper, date } = request;
  return runExport(request, { format: card ? 'card' : 'sheet', paper, date }, version, host);
}

async function runExport(
  request: ExportRequest,
  kind: { readonly format: ExportFormat; readonly shape?: ShapeName; readonly paper: Paper; readonly date?: string },
  version: string,
  host: CliHost,
): Promise<number> {
  const chosen = await choose(request, host);
  if (typeof chosen === 'number') return chosen;
  const { exportedFile } = await import('#sheet/exported-file');
  const { appliance: evaluated, text, path } = chosen;
  const { activation, units } = request;
  const bytes = await exportedFile({ ...kind, evaluated, text, path, version, activation, units });
  if (bytes) return write(bytes, request, host);
  host.writeErr(`${path}: nothing is activated there, so that there are no curves.\n`);
  return failed;
}

/** The whole file with all that it uses, as a page that needs neither server nor network. */
export async function runHandout({ path, units, output }: HandoutRequest, host: CliHost): Promise<number> {
  const read = await readOne(path, host);
  if (typeof read === 'number') return read;
  const { text, shown } = read;
  const snapshot = await snapshotOf(read, units, host);
  if (typeof snapshot === 'number') return snapshot;
  if (!snapshot.appliances.some(({ analysis }) => analysis)) {
    host.writeErr(firstError(shown, snapshot) ?? `${shown} has no appliance.\n`);
    return snapshot.appliances.length === 0 ? usageError : failed;
  }
  const [script, style] = await Promise.all(
    ['handout.js', 'handout.css'].map(async (name) => decode(await host.readBuilt(name))),
  );
  const { handoutPage } = await import('#sheet/handout');
  const name = shown.slice(shown.lastIndexOf('/') + 1);
  const page = await handoutPage({ name, text, units: units.force, ...selfContained(snapshot), script, style });
  return write(new TextEncoder().encode(page), { output }, host);
}

function decode(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}

/** Nothing is drawn of a file that leaves open what the wire is: an exit code, with what is wrong told. */
async function snapshotOf(
  { file, text, shown }: ReadFile,
  units: UnitPreferences,
  host: CliHost,
): Promise<Snapshot | number> {
  const workspace = fileWorkspace(host.readFile, host);
  const uri = host.uriOf(file);
  workspace.open(uri, text, 1);
  host.progress(shown);
  const snapshot = await workspace.snapshot(uri, units);
  host.progress(undefined);
  if (snapshot === undefined) throw new Error(`The workspace lost a document that is open: ${shown}`);
  const mistake = obstacle(shown, snapshot);
  if (mistake === undefined) return snapshot;
  host.writeErr(mistake);
  return failed;
}

/** The one file that a path stands for, or an exit code with what is wrong told. */
async function readOne(path: string, host: CliHost): Promise<ReadFile | number> {
  const { files, mistakes } = await host.findFiles([path]);
  if (mistakes.length > 0 || files.length !== 1) {
    host.writeErr(`${mistakes[0] ?? `Give one file: ${path} holds ${files.length}.`}\n`);
    return usageError;
  }
  const shown = host.displayPath(files[0]);
  const content = await host.readFile(files[0]);
  if ('text' in content) return { file: files[0], text: content.text, shown };
  host.writeErr(`${shown}: error: ${content.unreadable}\n`);
  return failed;
}

/** The appliance asked for, or an exit code with what is wrong told. */
async function choose({ path, appliance: name, units }: ExportRequest, host: CliHost): Promise<Chosen | number> {
  const read = await readOne(path, host);
  if (typeof read === 'number') return read;
  const { text, shown } = read;
  const snapshot = await snapshotOf(read, units, host);
  if (typeof snapshot === 'number') return snapshot;
  const names = snapshot.appliances.map(({ appliance }) => appliance.name);
  const wanted = snapshot.appliances.filter(({ appliance }) => name === undefined || appliance.name === name);
  if (wanted.length === 0) {
    host.writeErr(
      name === undefined
        ? `${shown} has no appliance.\n`
        : `${shown} has no appliance "${name}"${names.length > 0 ? `: there are ${names.join(', ')}` : ''}.\n`,
    );
    return usageError;
  }
  if (wanted.length > 1) {
    host.writeErr(`${shown} has several appliances: ${names.join(', ')}. Choose one with --appliance.\n`);
    return usageError;
  }
  const [appliance] = wanted;
  if (!appliance.analysis) {
    const { name, node, variant } = appliance.appliance;
    const error = firstError(shown, snapshot, variant ? undefined : node.span);
    host.writeErr(error ?? `${shown}: error: there is nothing to compute in ${name}.\n`);
    return failed;
  }
  return { appliance, text, path: shown };
}

async function write(bytes: Uint8Array, { output }: Pick<ExportRequest, 'output'>, host: CliHost): Promise<number> {
  if (output === undefined) {
    host.writeBytes(bytes);
    return ok;
  }
  const mistake = await host.writeFile(output, bytes);
  if (mistake === undefined) return ok;
  host.writeErr(`${output} ${mistake}\n`);
  return usageError;
}
