import { type ParsedText, reparse } from './reparse';
import { FileParser } from './rules/file';
import type { ParseResult } from './tree';

/**
 * Parses the text of a `.spring` file. Never throws: what is wrong is in `problems`, what is missing is left out. With the
 * text before an edit it yields the same in less time.
 */
export function parse(text: string, earlier?: ParsedText): ParseResult {
  if (!earlier) return parser.parse(text);
  return reparse(text, earlier, (from, to) => parser.parse(text, from, to));
}

/** Built once; chevrotain analyses the rules when it is. */
const parser = new FileParser();
