import { FileParser } from './rules/file';
import type { ParseResult } from './tree';

/** Parses the text of a `.spring` file. Never throws: what is wrong is in `problems`, what is missing is left out. */
export function parse(text: string): ParseResult {
  return parser.parse(text);
}

/** Built once; chevrotain analyses the rules when it is. */
const parser = new FileParser();
