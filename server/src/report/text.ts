/** The report for people: what is wrong, what the wire does to each tooth, and whether that is what was asked. */
import type { UnitPreferences } from '#core/units/format';
import { applianceText } from './appliance-text';
import type { Paint } from './paint';
import { requirementLines } from './requirement-text';
import type { AnalyzeReport, CheckReport, ReportAppliance, ReportProblem } from './schema';
import { summaryText } from './summary-text';

export interface TextOptions {
  readonly units: UnitPreferences;
  readonly paint: Paint;
}

export function analyzeText(report: AnalyzeReport, options: TextOptions): string {
  const { paint } = options;
  const lines = report.files.flatMap((file) => [
    ...problemLines(file, paint),
    ...file.appliances.flatMap((appliance) => [
      '',
      `${title(appliance, paint)} ${paint.quiet(`${file.path}:${appliance.line}`)}`,
      ...applianceText(appliance, options),
      ...(appliance.requirements.length > 0 ? ['', '  Requirements'] : []),
      ...requirementLines(appliance.requirements, paint, '    '),
    ]),
  ]);
  return finish([...lines, '', summaryLine(report, paint), paint.quiet(report.caution)]);
}

export function checkText(report: CheckReport, { paint }: TextOptions): string {
  const lines = report.files.flatMap((file) => [
    ...problemLines(file, paint),
    ...file.appliances.flatMap(({ name, variantOf, auxiliaryOf, line, requirements }) => [
      `${title({ name, variantOf, auxiliaryOf }, paint)} ${paint.quiet(`${file.path}:${line}`)}`,
      ...requirementLines(requirements, paint, '  '),
      ...(requirements.length === 0 ? [paint.quiet('  states no requirements')] : []),
    ]),
  ]);
  return finish([...lines, '', summaryLine(report, paint)]);
}

function title(
  { name, variantOf, auxiliaryOf }: Pick<ReportAppliance, 'name' | 'variantOf' | 'auxiliaryOf'>,
  paint: Paint,
): string {
  const of = variantOf === null ? auxiliaryOf && `auxiliary wire of ${auxiliaryOf}` : `variant of ${variantOf}`;
  return of ? `${paint.strong(name)}, ${of}` : paint.strong(name);
}

type CheckedFile = CheckReport['files'][number] | AnalyzeReport['files'][number];

/** `path:line:column: error: message [code]`, as compilers write it, so that editors can jump there. */
function problemLines(file: CheckedFile, paint: Paint): string[] {
  if (file.unreadable !== null) return [`${file.path}: ${paint.bad('error')}: ${file.unreadable}`];
  if (file.appliances.length === 0 && file.problems.length === 0 && file.silenced.length === 0) {
    return [`${file.path}: ${paint.quiet('holds no appliance; nothing to compute')}`];
  }
  return [
    ...file.problems.map(
      ({ line, column, severity, message, hint, code }) =>
        `${file.path}:${line}:${column}: ${severityWord(severity, paint)}: ${oneLine(message)}` +
        `${hint === null ? '' : ` ${oneLine(hint)}`} ${paint.quiet(`[${code}]`)}`,
    ),
    ...file.silenced.map(({ line, column, message, code, reason }) =>
      paint.quiet(`${file.path}:${line}:${column}: silenced (${reason}): ${oneLine(message)} [${code}]`),
    ),
  ];
}

function severityWord(severity: ReportProblem['severity'], paint: Paint): string {
  if (severity === 'error') return paint.bad('error');
  if (severity === 'warning') return paint.warning('warning');
  return severity === 'information' ? 'note' : 'hint';
}

function summaryLine(report: CheckReport | AnalyzeReport, paint: Paint): string {
  const { errors, requirements } = report.summary;
  const line = summaryText(report);
  return errors + requirements.missed + requirements.notEvaluable > 0 ? paint.bad(line) : paint.good(line);
}

function oneLine(text: string): string {
  return text.replace(/\s*[\r\n]+\s*/g, ' ');
}

function finish(lines: readonly string[]): string {
  return `${lines.join('\n').replace(/^\n+/, '')}\n`;
}
