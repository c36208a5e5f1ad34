/** `check` and `analyze`: from paths to a printed report. */
import type { UnitPreferences } from '#core/units/format';
import type { FoundFiles } from '#host/find-files';
import type { GitRevision } from '#host/git-revision';
import { type FileText, standardInput } from '#host/spring-file';
import type { NewFile, WriteOptions } from '#host/write-file';
import type { BendingPlanOptions } from '#model/bending/bending-plan';
import type { Severities } from '#model/severities';
import type { Paint } from '#report/paint';
import { buildAnalyzeReport, buildCheckReport, type ReportInput } from '#report/report';
import type { AnalyzeReport, CheckReport } from '#report/schema';
import { analyzeText, checkText, type TextOptions } from '#report/text';
import type { Workspace } from '#workspace/workspace';
import { changedFiles } from './changed-files';
import { failed, ok, usageError } from './exit-codes';
import { revisionOf, workingFolder } from './file-source';
import { fileWorkspace } from './file-workspace';

/** What the command line needs of the machine. */
export interface CliHost {
  /** Files that the paths stand for, and a line for each path that stands for none. */
  findFiles(
    paths: readonly string[],
  ): Promise<{ readonly files: readonly string[]; readonly mistakes: readonly string[] }>;
  readFile(path: string): Promise<FileText>;
  /** A file of our own, which may be larger than what people write. */
  readRecord(path: string): Promise<FileText>;
  /** Absolute paths of the files below a folder whose names end so; none where there is no such folder. */
  filesBelow(folder: string, ending: string): Promise<readonly string[]>;
  /** A revision of the git repository that holds the folder, or in one line why there is none. */
  openRevision(name: string, folder: string): Promise<GitRevision | { readonly mistake: string }>;
  absolutePath(path: string): string;
  /** A built file that lies beside the program. */
  readBuilt(name: string): Promise<Uint8Array>;
  displayPath(path: string): string;
  uriOf(path: string): string;
  pathOf(uri: string): string;
  /** Undefined where the file is gone, else why not. */
  removeFile(path: string): Promise<string | undefined>;
  /** Undefined where the whole file is written, else why not. */
  writeFile(path: string, bytes: Uint8Array, options?: WriteOptions): Promise<string | undefined>;
  /** Only where there is no such file. */
  writeNewFile(path: string, bytes: Uint8Array): Promise<NewFile>;
  writeOut(text: string): void;
  writeBytes(bytes: Uint8Array): void;
  writeErr(text: string): void;
  readonly paint: Paint;
  /** Says on a terminal what is being worked on; undefined takes it away. */
  progress(what: string | undefined): void;
}

export type ReportFormat = 'text' | 'json' | CheckFormat;

/** Written by `check` alone. */
type CheckFormat = 'markdown' | 'sarif' | 'annotations';

export const FAIL_ON = ['error', 'warning', 'information', 'hint'] as const;

export type FailOn = (typeof FAIL_ON)[number];

export interface ReportRequest {
  readonly command: 'check' | 'analyze';
  readonly paths: readonly string[];
  /** A revision of the git repository: only files that say something else than there. */
  readonly since: string | undefined;
  readonly format: ReportFormat;
  /** Findings of this severity and above make the run fail. */
  readonly failOn: FailOn;
  readonly units: UnitPreferences;
  readonly model: 'full' | 'bending-only';
  readonly severities: Severities;
  /** How far the figures spread, too. */
  readonly bands: boolean;
  /** The bending plan, too, for a bench of this kind. */
  readonly plan: BendingPlanOptions | undefined;
}

/** Prints the report and yields the exit code. */
export async function runReport(request: ReportRequest, version: string, host: CliHost): Promise<number> {
  const { files, mistakes } = await filesOf(request, host);
  if (mistakes.length > 0) {
    host.writeErr(mistakes.map((line) => `${line}\n`).join(''));
    return usageError;
  }
  const workspace = fileWorkspace(host.readFile, host, { compliance: request.model });
  const inputs: ReportInput[] = [];
  // The contract speaks in newtons, whatever the text for people does.
  const units: UnitPreferences = request.format === 'json' ? { force: 'N' } : request.units;
  for (const [index, file] of files.entries()) {
    const place = files.length > 1 ? `${index + 1} of ${files.length}: ` : '';
    host.progress(`${place}${host.displayPath(file)}`);
    inputs.push(await evaluateFile(file, units, request, workspace, host));
  }
  host.progress(undefined);

  const { model, plan } = request;
  const options = { version, model, ...(plan && { plan }) };
  const text = { units: request.units, paint: host.paint };
  if (request.command === 'analyze') {
    const report = buildAnalyzeReport(inputs, options);
    host.writeOut(request.format === 'json' ? json(report) : analyzeText(report, text));
    return exitCode(report, request.failOn);
  }
  const report = buildCheckReport(inputs, options);
  host.writeOut(await writtenCheck(report, request.format, text));
  return exitCode(report, request.failOn);
}

async function filesOf({ paths, since }: ReportRequest, host: CliHost): Promise<FoundFiles> {
  if (since === undefined) return host.findFiles(paths);
  const now = workingFolder(host, true);
  const files = new Set<string>();
  for (const path of paths) {
    if (path === standardInput) return { files: [], mistakes: ['--since goes with files, not with standard input.'] };
    const before = await revisionOf(since, path, host);
    if ('mistake' in before) return { files: [], mistakes: [before.mistake] };
    const changed = await changedFiles(path, before, now, host);
    if (changed.mistake !== undefined) return { files: [], mistakes: [changed.mistake] };
    for (const file of changed.files) if ((await now.readFile(file)) !== undefined) files.add(file);
  }
  return { files: [...files], mistakes: [] };
}

async function writtenCheck(report: CheckReport, format: ReportFormat, options: TextOptions): Promise<string> {
  switch (format) {
    case 'text':
      return checkText(report, options);
    case 'json':
      return json(report);
    case 'markdown':
      return (await import('#report/markdown')).checkMarkdown(report);
    case 'sarif':
      return json((await import('#report/sarif')).sarifLog(report));
    case 'annotations':
      return (await import('#report/annotations')).annotations(report);
  }
}

async function evaluateFile(
  file: string,
  units: UnitPreferences,
  { bands, severities }: ReportRequest,
  workspace: Workspace,
  host: CliHost,
): Promise<ReportInput> {
  const path = host.displayPath(file);
  const content = await host.readFile(file);
  if ('unreadable' in content) return { path, unreadable: content.unreadable };
  const uri = host.uriOf(file);
  workspace.open(uri, content.text, 1);
  const snapshot = await workspace.snapshot(uri, units, severities);
  if (snapshot === undefined) throw new Error(`The workspace lost a document that is open: ${path}`);
  let steps = 0;
  const pause = async () => {
    steps += 1;
    host.progress(`${path}: further wires for the bands, step ${steps}`);
    return true;
  };
  const { appliances } = bands ? await workspace.withBands(snapshot, { pause }) : snapshot;
  workspace.close(uri);
  const { problems, silenced } = snapshot;
  return { path, text: content.text, problems, silenced, appliances };
}

/** A requirement that is not met fails whatever its finding is set to; a missed `prefer` is a warning like another. */
function exitCode({ summary, files }: AnalyzeReport | CheckReport, failOn: FailOn): number {
  const grave = FAIL_ON.slice(0, FAIL_ON.indexOf(failOn) + 1);
  const anyFinding = files.some(({ problems }) => problems.some(({ severity }) => grave.includes(severity)));
  const requirements = files.flatMap((file) => file.appliances.flatMap((appliance) => appliance.requirements));
  const anyMissed = requirements.some(({ kind, outcome }) => kind === 'require' && outcome !== 'met');
  return summary.errors > 0 || anyFinding || anyMissed ? failed : ok;
}

function json(report: unknown): string {
  return `${JSON.stringify(report, undefined, 2)}\n`;
}
