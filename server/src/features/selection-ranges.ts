/** Growing a selection: word, expression, line of the language, block, item, file. */
import type { Position, SelectionRange } from 'vscode-languageserver-types';
import { tokenize } from '#grammar/tokens';
import type { Span } from '#grammar/tree';
import type { Snapshot } from '#workspace/snapshot';
import { bracketPairs } from './brackets';
import { offsetAt, rangeOf } from './positions';
import { tokenAt } from './token-at';
import { nodesAt } from './tree-walk';

export function provideSelectionRanges(snapshot: Snapshot, positions: readonly Position[]): SelectionRange[] {
  return positions.map((position) => selectionAt(snapshot, offsetAt(snapshot, position)));
}

function selectionAt(snapshot: Snapshot, offset: number): SelectionRange {
  const { text, parse } = snapshot;
  const token = tokenAt(text, offset);
  const spans: Span[] = [
    { start: 0, end: text.length },
    ...nodesAt(parse.tree, offset).map(({ span }) => span),
    ...bracketPairs(text).flatMap(({ span, bracket }) => [span, insideOf(text, span, bracket)]),
    ...(token === undefined ? [] : [{ start: token.startOffset, end: token.end }]),
    ...tokenize(text).comments.map(({ startOffset, image }) => ({
      ...{ start: startOffset, end: startOffset + image.length },
    })),
  ].filter(({ start, end }) => start <= offset && offset <= end && (start < end || start === offset));
  const outermostFirst = spans.sort((left, right) => right.end - right.start - (left.end - left.start));
  return outermostFirst.reduce<SelectionRange | undefined>((parent, span) => {
    const range = rangeOf(snapshot, span);
    return parent !== undefined && !isWithin(snapshot, span, parent) ? parent : { range, ...(parent && { parent }) };
  }, undefined) as SelectionRange;
}

/** Properly inside of the range selected next. */
function isWithin(snapshot: Snapshot, { start, end }: Span, { range }: SelectionRange): boolean {
  const [from, to] = [offsetAt(snapshot, range.start), offsetAt(snapshot, range.end)];
  return from <= start && end <= to && end - start < to - from;
}

/** What stands in a block, without the white space beside its brackets. */
function insideOf(text: string, { start, end }: Span, bracket: string): Span {
  const inner = text.slice(start + bracket.length, end - 1);
  const from = start + 1 + (inner.length - inner.trimStart().length);
  return { start: from, end: Math.max(from, start + 1 + inner.trimEnd().length) };
}
