/**
 * Findings as workflow commands of GitHub Actions (docs.github.com, "Workflow commands"), which a pull request shows
 * beside the line.
 */
import type { CheckReport, ReportProblem } from './schema';

const commands: Readonly<Record<ReportProblem['severity'], 'error' | 'warning' | 'notice'>> = {
  error: 'error',
  warning: 'warning',
  information: 'notice',
  hint: 'notice',
};

/** One line for each finding that is not silenced; nothing where there is none. */
export function annotations({ files }: CheckReport): string {
  const lines = files.flatMap(({ path, unreadable, problems }) =>
    unreadable === null
      ? problems.map((problem) => annotation(path, problem))
      : [`::error file=${property(path)}::${data(`${path} ${unreadable}`)}`],
  );
  return lines.map((line) => `${line}\n`).join('');
}

function annotation(path: string, problem: ReportProblem): string {
  const { severity, line, column, endLine, endColumn, code, message, hint } = problem;
  // Columns are read only where a finding lies within one line.
  const place = endLine === line ? `col=${column},endColumn=${endColumn}` : `endLine=${endLine}`;
  const text = hint === null ? message : `${message} ${hint}`;
  return `::${commands[severity]} file=${property(path)},line=${line},${place},title=${property(code)}::${data(text)}`;
}

function data(text: string): string {
  return text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
}

function property(text: string): string {
  return data(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}
