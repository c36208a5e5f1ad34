/**
 * Findings as SARIF 2.1.0 (OASIS, Static Analysis Results Interchange Format, 2020), which code hosts and editors
 * read.
 */
import { DIAGNOSTICS } from '#model/diagnostics/catalogue';
import { syntaxPage } from '#model/diagnostics/syntax';
import { SWITCHED_OFF } from '#model/severities';
import type { CheckReport, ReportProblem } from './schema';

const schema = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json';

type CheckedFile = CheckReport['files'][number];
type Level = 'error' | 'warning' | 'note';

const levels: Readonly<Record<ReportProblem['severity'], Level>> = {
  error: 'error',
  warning: 'warning',
  information: 'note',
  hint: 'note',
};

/** A log with one run; rules are those that were broken, in alphabetical order. */
export function sarifLog({ files, tool }: CheckReport): unknown {
  const broken = files.flatMap((file) => [...file.problems, ...file.silenced]).map(({ code }) => code);
  const rules = [...new Set(broken)].sort().map(ruleOf);
  const index = new Map(rules.map(({ id }, position) => [id, position]));
  const unreadable = files.filter((file) => file.unreadable !== null);
  return {
    $schema: schema,
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: tool.name, semanticVersion: tool.version, rules } },
        columnKind: 'utf16CodeUnits',
        invocations: [
          {
            executionSuccessful: unreadable.length === 0,
            toolExecutionNotifications: unreadable.map(({ path, unreadable }) => ({
              level: 'error',
              message: { text: `${path} ${unreadable}` },
              locations: [{ physicalLocation: { artifactLocation: artifact(path) } }],
            })),
          },
        ],
        results: files.flatMap((file) => resultsOf(file, index)),
      },
    ],
  };
}

function ruleOf(id: string) {
  const entry = DIAGNOSTICS.get(id) ?? syntaxPage;
  return {
    id,
    shortDescription: { text: entry.title },
    help: { text: entry.documentation, markdown: entry.documentation },
    defaultConfiguration: { level: levels[entry.severity] },
  };
}

function resultsOf(file: CheckedFile, index: ReadonlyMap<string, number>) {
  return [
    ...file.problems.map((problem) => resultOf(file, problem, index)),
    ...file.silenced.map(({ reason, ...problem }) => ({
      ...resultOf(file, problem, index),
      suppressions: [{ kind: reason === SWITCHED_OFF ? 'external' : 'inSource', justification: reason }],
    })),
  ];
}

function resultOf({ path }: CheckedFile, problem: ReportProblem, index: ReadonlyMap<string, number>) {
  const { code, severity, message, hint, line, column, endLine, endColumn } = problem;
  return {
    ruleId: code,
    ruleIndex: index.get(code),
    level: levels[severity],
    message: { text: hint === null ? message : `${message} ${hint}` },
    locations: [
      {
        physicalLocation: {
          artifactLocation: artifact(path),
          region: { startLine: line, startColumn: column, endLine, endColumn },
        },
      },
    ],
  };
}

function artifact(path: string) {
  return { uri: path.split('/').map(encodeURIComponent).join('/') };
}
