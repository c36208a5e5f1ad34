/** Problems as the editor shows them. */
import { type Diagnostic, DiagnosticSeverity } from 'vscode-languageserver-types';
import type { Problem } from '#model/problem';
import type { Snapshot } from '#workspace/snapshot';
import { rangeOf } from './positions';

export function provideDiagnostics(snapshot: Snapshot): Diagnostic[] {
  return snapshot.problems.map((problem) => diagnosticOf(snapshot, problem));
}

export function diagnosticOf(snapshot: Snapshot, problem: Problem): Diagnostic {
  return {
    range: rangeOf(snapshot, problem.span),
    severity: severities[problem.severity],
    source: 'springwright',
    code: problem.code,
    message: problem.hint === undefined ? problem.message : `${problem.message}\n${problem.hint}`,
    relatedInformation: related(snapshot, problem),
  };
}

const severities = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
} as const;

function related(snapshot: Snapshot, problem: Problem): Diagnostic['relatedInformation'] {
  return problem.related?.flatMap(({ uri, span, message }) => {
    const source = uri === snapshot.uri ? snapshot : snapshot.module(uri);
    return source === undefined ? [] : [{ location: { uri, range: rangeOf(source, span) }, message }];
  });
}
