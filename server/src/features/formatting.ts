/** Formatting of the whole document, as the smallest single edit. Items with syntax problems are left as they are. */
import type { TextEdit } from 'vscode-languageserver-types';
import { parse } from '#grammar/parser';
import { format } from '#grammar/printer';
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
  return tree.items.reduceRight((result, { span }) => {
    const written = text.slice(span.start, span.end);
    const ownLines =
      /(?:^|[\r\n])$/.test(text.slice(0, span.start)) && /^[ \t]*(?:[\r\n]|\/\/|$)/.test(text.slice(span.end));
    // An item in which the parser had to skip something is not itself again when it is written alone.
    const broken = problems.some((problem) => problem.span.start <= span.end && span.start <= problem.span.end);
    if (!ownLines || broken) return result;
    return result.slice(0, span.start) + format(written).trim() + result.slice(span.end);
  }, text);
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
