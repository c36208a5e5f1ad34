/** What the command line prints of files, as text: the same figures and words, for whoever asks through the editor. */
import type { Settings } from '#features/settings';
import { DIAGNOSTICS } from '#model/diagnostics/catalogue';
import { syntaxPage } from '#model/diagnostics/syntax';
import { plain } from '#report/paint';
import { buildAnalyzeReport, buildCheckReport, caution, type ReportInput } from '#report/report';
import { analyzeText, checkText } from '#report/text';
import type { Workspace } from '#workspace/workspace';
import { version } from '../../../package.json';
import type { ExplainParams, ReportTextParams } from './protocol';

/** Depends on the texts and the settings alone, never on what was computed before. */
export async function reportText(
  { command, files }: ReportTextParams,
  workspace: Workspace,
  settingsOf: (uri: string) => Promise<Settings>,
): Promise<string> {
  const inputs: ReportInput[] = [];
  for (const { uri, path } of files) inputs.push(await reportInput(uri, path, workspace, await settingsOf(uri)));
  const options = { version, model: 'full' } as const;
  const { units } = await settingsOf(files[0]?.uri ?? '');
  if (command === 'analyze') return analyzeText(buildAnalyzeReport(inputs, options), { units, paint: plain });
  return `${checkText(buildCheckReport(inputs, options), { units, paint: plain })}${caution}\n`;
}

/** The page of one finding; the list of all where there is none of that id. */
export function explainText({ id }: ExplainParams): string {
  const pages = [...DIAGNOSTICS.values(), syntaxPage];
  const page = pages.find(({ code }) => code === id);
  if (page) return `${page.title} (${page.code}, ${page.severity})\n\n${page.documentation}\n`;
  const list = pages.map(({ code, title }) => `${code}: ${title}`).sort();
  return `There is no finding "${id}". There are:\n${list.join('\n')}\n`;
}

async function reportInput(
  uri: string,
  path: string,
  workspace: Workspace,
  { units, severity }: Settings,
): Promise<ReportInput> {
  const first = await workspace.snapshot(uri, units, severity);
  if (first) await workspace.finish(first, async () => true);
  const snapshot = await workspace.snapshot(uri, units, severity);
  if (!snapshot) return { path, unreadable: 'There is no such file.' };
  const { text, problems, silenced } = snapshot;
  return { path, text, problems, silenced, appliances: snapshot.appliances.filter(({ stale }) => !stale) };
}
