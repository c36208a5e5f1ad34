/** Formatting of some lines only: those of a range, or those that what was just typed completes. */
import type { Position, Range, TextEdit } from 'vscode-languageserver-types';
import { formatSound } from '#grammar/format-sound';
import { tokenize } from '#grammar/tokens';
import type { Span } from '#grammar/tree';
import type { Snapshot } from '#workspace/snapshot';
import { bracketPairs } from './brackets';
import { offsetAt, rangeOf } from './positions';

/** Whole lines that the range touches, and the blank lines between them. */
export function provideRangeFormatting(snapshot: Snapshot, range: Range): TextEdit[] {
  const start = offsetAt(snapshot, { line: range.start.line, character: 0 });
  const end = Math.max(start, offsetAt(snapshot, range.end));
  return lineEdits(snapshot.text, formatSound(snapshot.text))
    .filter(({ span }) => span.start < end && start < span.end)
    .map(({ span, newText }) => ({ range: rangeOf(snapshot, span), newText }));
}

/** After a `}` the block that it closes; after a line break the line before it. */
export function provideOnTypeFormatting(snapshot: Snapshot, position: Position, typed: string): TextEdit[] {
  const offset = offsetAt(snapshot, position);
  const concerned = typed === '}' ? blockBefore(snapshot.text, offset) : lineBefore(snapshot, position);
  if (concerned === undefined) return [];
  return lineEdits(snapshot.text, formatSound(snapshot.text))
    .filter(({ span, blank }) => !blank && span.start < concerned.end && concerned.start < span.end)
    .map(({ span, newText }) => ({ range: rangeOf(snapshot, span), newText }));
}

function blockBefore(text: string, offset: number): Span | undefined {
  return bracketPairs(text).find(({ span, bracket }) => bracket === '{' && span.end === offset)?.span;
}

function lineBefore(snapshot: Snapshot, { line }: Position): Span | undefined {
  if (line === 0) return undefined;
  const start = offsetAt(snapshot, { line: line - 1, character: 0 });
  const { length } = snapshot.text.slice(start).split(/[\r\n]/, 1)[0];
  return length === 0 ? undefined : { start, end: start + length };
}

/** A token or a comment. */
interface Piece {
  readonly image: string;
  readonly startOffset: number;
}

interface LineEdit {
  readonly span: Span;
  readonly newText: string;
  /** True for the white space between lines. */
  readonly blank: boolean;
}

/**
 * The way from a text to the formatted one, line by line. Both have the same tokens and comments in the same order, so
 * that lines end together wherever both break between the same two; what lies between is changed as one.
 */
function lineEdits(text: string, formatted: string): LineEdit[] {
  if (text === formatted) return [];
  const before = pieces(text);
  const after = pieces(formatted);
  if (before.length !== after.length) return [];
  const edits: LineEdit[] = [];
  const change = (span: Span, target: Span, blank: boolean): void => {
    const newText = formatted.slice(target.start, target.end);
    if (text.slice(span.start, span.end) !== newText) edits.push({ span, newText, blank });
  };
  let first = 0;
  for (let index = 0; index < before.length; index += 1) {
    const breaksHere = index === before.length - 1 || (breaks(text, before, index) && breaks(formatted, after, index));
    if (!breaksHere) continue;
    const line = { start: lineStart(text, before[first]), end: endOf(before[index]) };
    const target = { start: lineStart(formatted, after[first]), end: endOf(after[index]) };
    change(line, target, false);
    if (index < before.length - 1) {
      const gap = { start: line.end, end: lineStart(text, before[index + 1]) };
      change(gap, { start: target.end, end: lineStart(formatted, after[index + 1]) }, true);
    }
    first = index + 1;
  }
  return edits;
}

function pieces(text: string): Piece[] {
  const { tokens, comments } = tokenize(text);
  return [...tokens, ...comments].sort((left, right) => left.startOffset - right.startOffset);
}

function breaks(text: string, all: readonly Piece[], index: number): boolean {
  return /[\r\n]/.test(text.slice(endOf(all[index]), all[index + 1].startOffset));
}

/** Behind the last line break before a piece. */
function lineStart(text: string, { startOffset }: Piece): number {
  let start = startOffset;
  while (start > 0 && /[ \t]/.test(text[start - 1])) start -= 1;
  return start;
}

/** The white space at a comment's end is not part of the line. */
function endOf({ image, startOffset }: Piece): number {
  return startOffset + image.trimEnd().length;
}
