/** Between offsets of the tree and the line and character positions of the protocol. */
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Position, Range } from 'vscode-languageserver-types';
import type { Span } from '#grammar/tree';

/** A text whose positions are asked for. */
export interface Positioned {
  readonly text: string;
}

export function positionAt(source: Positioned, offset: number): Position {
  return documentOf(source).positionAt(offset);
}

export function offsetAt(source: Positioned, position: Position): number {
  return documentOf(source).offsetAt(position);
}

export function rangeOf(source: Positioned, { start, end }: Span): Range {
  return { start: positionAt(source, start), end: positionAt(source, end) };
}

/** Where the line's text ends, before its line break. */
export function lineEnd(source: Positioned, line: number): Position {
  const document = documentOf(source);
  const text = document.getText({ start: { line, character: 0 }, end: { line: line + 1, character: 0 } });
  return { line, character: text.replace(/[\r\n]+$/, '').length };
}

/** Line starts are found once per text; the sources are immutable. */
const documents = new WeakMap<Positioned, TextDocument>();

function documentOf(source: Positioned): TextDocument {
  let document = documents.get(source);
  if (document === undefined) {
    document = TextDocument.create('', 'springwright', 0, source.text);
    documents.set(source, document);
  }
  return document;
}
