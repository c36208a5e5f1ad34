/** Quick fixes that come with the problems at a place. */
import { type CodeAction, CodeActionKind, type Range } from 'vscode-languageserver-types';
import type { Problem } from '#model/problem';
import type { Snapshot } from '#workspace/snapshot';
import { diagnosticOf } from './diagnostics';
import { offsetAt, rangeOf } from './positions';

export function provideCodeActions(snapshot: Snapshot, range: Range): CodeAction[] {
  const start = offsetAt(snapshot, range.start);
  const end = offsetAt(snapshot, range.end);
  return snapshot.problems
    .filter(({ span }) => span.start <= end && start <= span.end)
    .flatMap((problem) => fixesOf(snapshot, problem));
}

function fixesOf(snapshot: Snapshot, problem: Problem): CodeAction[] {
  return (problem.fixes ?? []).map(({ title, edits }, index) => ({
    title,
    kind: CodeActionKind.QuickFix,
    diagnostics: [diagnosticOf(snapshot, problem)],
    isPreferred: index === 0,
    edit: {
      changes: { [snapshot.uri]: edits.map(({ span, text }) => ({ range: rangeOf(snapshot, span), newText: text })) },
    },
  }));
}
