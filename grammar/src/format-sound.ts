/** Layout of a text that may hold syntax problems. */
import { parse } from './parser';
import { format } from './printer';
import type { Span } from './tree';

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
