/** Formatting of the whole document, as the smallest single edit. Items with syntax problems are left as they are. */
import type { TextEdit } from 'vscode-languageserver-types';
import { parse } from '#grammar/parser';
import { format } from '#grammar/printer';
import type { Span } from '#grammar/tree';
import type { Snapshot } from '#workspace/snapshot';
import { rangeOf } from './positions';

export function provideFormatting(snapshot: Snapshot): TextEdit[] {
  const { text } = snapshot;
  const formatted = formatSound(text);
  if (formatted === text) return [];
  const start = commonStart(text, formatted);
  const rest = commonEnd(text, formatted, Math.min(text.length, formatted.length) - start);
  return [
    {
      range: rangeOf(snapshot, { start, end: text.length - rest }),
      newText: formatted.slice(start, formatted.length - rest),
    },
  ];
}

/** The text with its sound items laid out. Where all of it is sound, so is what stands between them. */
export function formatSound(text: string): string {
  const { tree, problems } = parse(text);
  if (problems.length === 0) return format(text);
  const pieces: string[] = [];
  let end = 0;
  for (const { span } of tree.items) {
    if (!hasOwnLines(text, span)) continue;
    // What is not sound by itself comes back as it was.
    pieces.push(text.slice(end, span.start), format(text.slice(span.start, span.end)).trim());
    end = span.end;
  }
  return pieces.join('') + text.slice(end);
}

/** Whether nothing but a comment stands beside the item on its lines. */
function hasOwnLines(text: string, { start, end }: Span): boolean {
  let after = end;
  while (after < text.length && /[ \t]/.test(text[after])) after += 1;
  const isLast = after === text.length || /[\r\n]/.test(text[after]) || text.startsWith('//', after);
  return isLast && (start === 0 || /[\r\n]/.test(text[start - 1]));
}

function commonStart(left: string, right: string): number {
  let length = 0;
  while (length < left.length && length < right.length && left[length] === right[length]) length += 1;
  // Never between the halves of a character or of a line break.
  while (length > 0 && /[\uD800-\uDBFF\r]/.test(left[length - 1])) length -= 1;
  return length;
}

function commonEnd(left: string, right: string, most: number): number {
  let length = 0;
  while (length < most && left[left.length - 1 - length] === right[right.length - 1 - length]) length += 1;
  while (length > 0 && /[\uDC00-\uDFFF\n]/.test(left[left.length - length])) length -= 1;
  return length;
}
