/** Formatting of the whole document, as the smallest single edit. Items with syntax problems are left as they are. */
import type { TextEdit } from 'vscode-languageserver-types';
import { formatSound } from '#grammar/format-sound';
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
