/** Findings that the file itself silences: `// ignore-next-line <id>: reason`. */
import type { Span } from '#grammar/tree';
import { DIAGNOSTICS } from './diagnostics/catalogue';
import { ignoreWithoutReason } from './diagnostics/ignore-without-reason';
import { unknownIgnore } from './diagnostics/unknown-ignore';
import { unusedIgnore } from './diagnostics/unused-ignore';
import { nearest } from './names/nearest';
import type { Findings, Problem, Silenced } from './problem';
import { stopsComputing, withHint } from './severities';

/**
 * Takes out what the comments of the text silence, one finding each, and adds what is wrong with the comments. Errors
 * that stop the computation stay: without them the file would show nothing and not say why.
 */
export function silence(text: string, problems: readonly Problem[]): Findings {
  const comments = ignoreComments(text);
  if (comments.length === 0) return { problems, silenced: [] };
  const kept = [...problems];
  const silenced: Silenced[] = [];
  // What is not computed cannot be found.
  const unfinished = problems.some(stopsComputing);
  for (const comment of comments) {
    const mistake = mistakeOf(comment);
    if (mistake) {
      kept.push(mistake);
      continue;
    }
    const index = kept.findIndex(
      ({ code, span }) => code === comment.id && span.start >= comment.line.start && span.start <= comment.line.end,
    );
    const found = kept[index];
    if (!found) {
      if (!unfinished) kept.push(unusedIgnore.at(comment.span, comment.id));
    } else if (stopsComputing(found)) {
      kept[index] = withHint(found, 'It cannot be silenced: the wire is not computed before it is mended.');
    } else {
      kept.splice(index, 1);
      silenced.push({ problem: found, reason: comment.reason });
    }
  }
  return { problems: kept, silenced };
}

function mistakeOf({ id, idSpan, reason, span }: IgnoreComment): Problem | undefined {
  const known = [...DIAGNOSTICS.keys(), 'syntax'];
  if (!known.includes(id)) return unknownIgnore.at(idSpan, id, nearest(id, known));
  return reason === '' ? ignoreWithoutReason.at(span, id) : undefined;
}

interface IgnoreComment {
  readonly span: Span;
  readonly id: string;
  readonly idSpan: Span;
  readonly reason: string;
  /** The line that it speaks of: the next one that is not itself such a comment. */
  readonly line: Span;
}

const MARK = 'ignore-next-line';

function ignoreComments(text: string): IgnoreComment[] {
  if (!text.includes(MARK)) return [];
  const lines = linesOf(text);
  const read = lines.map(({ start, end }) => readComment(text.slice(start, end), start));
  const comments: IgnoreComment[] = [];
  // The line after the last one holds nothing.
  let next: Span = { start: text.length + 1, end: text.length + 1 };
  for (let index = lines.length - 1; index >= 0; index--) {
    const comment = read[index];
    if (comment) comments.unshift({ ...comment, line: next });
    else next = lines[index];
  }
  return comments;
}

function linesOf(text: string): Span[] {
  const lines: Span[] = [];
  let start = 0;
  for (const { index, 0: lineBreak } of text.matchAll(/\r\n|\r|\n/g)) {
    lines.push({ start, end: index });
    start = index + lineBreak.length;
  }
  return [...lines, { start, end: text.length }];
}

function readComment(line: string, start: number): Omit<IgnoreComment, 'line'> | undefined {
  const at = commentStart(line);
  const comment = at < 0 ? '' : line.slice(at).trimEnd();
  const head = /^\/\/\s*ignore-next-line(?![\w-])\s*/.exec(comment)?.[0];
  if (head === undefined) return undefined;
  const id = /^[\w-]*/.exec(comment.slice(head.length))?.[0] ?? '';
  const reason = comment.slice(head.length + id.length).replace(/^\s*:?\s*/, '');
  const span = { start: start + at, end: start + at + comment.length };
  const idStart = span.start + head.length;
  return { span, id, idSpan: id === '' ? span : { start: idStart, end: idStart + id.length }, reason };
}

/** Offset of the line's comment, -1 where it has none; a text may hold slashes. */
function commentStart(line: string): number {
  let inText = false;
  for (let index = 0; index < line.length; index++) {
    if (line[index] === '"') inText = !inText;
    else if (!inText && line[index] === '/' && line[index + 1] === '/') return index;
  }
  return -1;
}
