/** What can be folded: blocks, long argument lists, runs of comments and of `use` lines. */
import { type FoldingRange, FoldingRangeKind } from 'vscode-languageserver-types';
import { tokenize } from '#grammar/tokens';
import type { Span } from '#grammar/tree';
import type { Snapshot } from '#workspace/snapshot';
import { bracketPairs } from './brackets';
import { positionAt } from './positions';

export function provideFoldingRanges(snapshot: Snapshot): FoldingRange[] {
  const lines = (start: number, end: number) => [positionAt(snapshot, start).line, positionAt(snapshot, end).line];
  const blocks = bracketPairs(snapshot.text).map(({ span }) => {
    const [startLine, endLine] = lines(span.start, span.end);
    // The line of the closing bracket stays in sight.
    return { startLine, endLine: endLine - 1 };
  });
  const uses = snapshot.parse.tree.items.filter(({ kind }) => kind === 'use').map(({ span }) => span);
  const runs = (spans: readonly Span[], kind: FoldingRangeKind): FoldingRange[] =>
    runsOfLines(spans.map(({ start, end }) => lines(start, end))).map(([startLine, endLine]) => ({
      ...{ startLine, endLine, kind },
    }));
  return [
    ...blocks,
    ...runs(commentLines(snapshot.text), FoldingRangeKind.Comment),
    ...runs(uses, FoldingRangeKind.Imports),
  ]
    .filter(({ startLine, endLine }) => endLine > startLine)
    .sort((left, right) => left.startLine - right.startLine || right.endLine - left.endLine);
}

/** Comments that have their line to themselves. */
export function commentLines(text: string): Span[] {
  return tokenize(text).comments.flatMap(({ startOffset, image }) => {
    const before = text.slice(text.lastIndexOf('\n', startOffset - 1) + 1, startOffset);
    return before.trim() === '' ? [{ start: startOffset, end: startOffset + image.length }] : [];
  });
}

/** First and last lines of runs in which each begins on the line after the one before. */
function runsOfLines(spans: readonly (readonly number[])[]): [number, number][] {
  const runs: [number, number][] = [];
  for (const [start, end] of spans) {
    const last = runs.at(-1);
    if (last !== undefined && start === last[1] + 1) last[1] = end;
    else runs.push([start, end]);
  }
  return runs;
}
