/**
 * Parses again only what an edit touches: from the last declaration that begins before it up to the first that begins after
 * it. Those before it stay the same objects; so do those behind, unless the edit changes the length of the text.
 *
 * A declaration with a block begins on a line of its own with a word that is never a name: what stands before ends there,
 * however broken it is. So parsing can start anew there, and is in step with the earlier text when it comes to one again.
 */
import type { Item, ParseResult, Span, SyntaxProblem } from './tree';

/** A text as it was parsed. */
export interface ParsedText {
  readonly text: string;
  readonly parse: ParseResult;
}

/** What parsing the whole text yields; `parsePart` parses from one offset to another as if the text ended there. */
export function reparse(
  text: string,
  { text: earlier, parse: { tree, problems } }: ParsedText,
  parsePart: (from: number, to: number) => ParseResult,
): ParseResult {
  const { items } = tree;
  const by = text.length - earlier.length;
  const edit = editOf(earlier, text);
  const first = Math.max(
    0,
    items.findLastIndex((_, index) => beginsBefore(edit.start, items, index, earlier)),
  );
  const from = items[first - 1]?.span.end ?? 0;
  const front = { items: items.slice(0, first), problems: problems.filter(({ span }) => span.start < from) };
  const next = items.find((item, index) => index > first && beginsAfter(edit.end, item, earlier));
  const part = parsePart(from, next ? next.span.end + by : text.length);
  const met = part.tree.items.findIndex(({ span }) => span.start - by === next?.span.start);
  if (!next || met < 0) return joined(text, front, stretchOf(next ? parsePart(from, text.length) : part));
  const { start } = next.span;
  const [again, ...others] = moved(items.slice(items.indexOf(next)), by);
  const back = problems.filter(({ span }) => span.start >= start);
  return joined(
    text,
    front,
    { items: part.tree.items.slice(0, met), problems: part.problems.filter(({ span }) => span.start < start + by) },
    { items: [documentedAs(part.tree.items[met], again), ...others], problems: moved(back, by) },
  );
}

interface Stretch {
  readonly items: readonly Item[];
  readonly problems: readonly SyntaxProblem[];
}

function stretchOf({ tree: { items }, problems }: ParseResult): Stretch {
  return { items, problems };
}

function joined(text: string, ...stretches: readonly Stretch[]): ParseResult {
  const items = stretches.flatMap((one) => one.items);
  return {
    tree: { kind: 'file', span: { start: 0, end: text.length }, items },
    problems: stretches.flatMap((one) => one.problems),
  };
}

/** The stretch of the earlier text that the present one has something else for. */
function editOf(earlier: string, text: string): Span {
  const most = Math.min(earlier.length, text.length);
  let start = 0;
  while (start < most && earlier.charCodeAt(start) === text.charCodeAt(start)) start++;
  let same = 0;
  while (
    same < most - start &&
    earlier.charCodeAt(earlier.length - 1 - same) === text.charCodeAt(text.length - 1 - same)
  )
    same++;
  return { start, end: earlier.length - same };
}

/** Whether a block's word stands wholly before the place, with nothing but blanks and comments since the item before it. */
function beginsBefore(place: number, items: readonly Item[], index: number, text: string): boolean {
  const { kind, span } = items[index];
  if (!BLOCKS.has(kind) || span.start + LONGEST_WORD >= place) return false;
  const gap = text.slice(items[index - 1]?.span.end ?? 0, span.start);
  return /[\r\n]/.test(gap) && gap.replace(/\/\/[^\r\n]*/g, '').trim() === '';
}

/** Whether a block begins after the place, on a line that does. */
function beginsAfter(place: number, { kind, span }: Item, text: string): boolean {
  return BLOCKS.has(kind) && span.start > place && /[\r\n][^\S\r\n]*$/.test(text.slice(place, span.start));
}

const BLOCKS: ReadonlySet<Item['kind']> = new Set(['alloy', 'part', 'appliance', 'variant']);
const LONGEST_WORD = 'auxiliary'.length;

/** What stands above a declaration documents it; an edit may have changed that. */
function documentedAs(parsed: Item, item: Item): Item {
  const doc = 'doc' in parsed ? parsed.doc : undefined;
  return 'doc' in item && item.doc !== doc ? { ...item, doc } : item;
}

/** The same at another place. */
function moved<T>(node: T, by: number): T {
  if (by === 0 || typeof node !== 'object' || node === null) return node;
  if (Array.isArray(node)) return node.map((one) => moved(one, by)) as T;
  if ('start' in node) {
    const { start, end } = node as unknown as Span;
    return { start: start + by, end: end + by } as T;
  }
  const copy = { ...node };
  for (const key in copy) {
    const value = copy[key];
    if (typeof value === 'object') copy[key] = moved(value, by);
  }
  return copy;
}
