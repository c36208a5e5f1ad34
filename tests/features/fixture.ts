/**
 * Fixtures written in the language itself. `$0` marks the cursor. A line of carets under a line says
 * what is expected there and is not part of the text:
 *
 *     straight 8 mm
 *                  ^ hint: → 8 mm
 *     bend 7 mm
 *          ^^^^ error unit-mismatch: …
 */
import type { Position, Range } from 'vscode-languageserver-types';
import type { Snapshot } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';

export interface Expected {
  readonly range: Range;
  /** The word or words before the colon: `hint`, `error unit-mismatch`. */
  readonly kind: string;
  readonly text: string;
}

export interface Fixture {
  readonly text: string;
  readonly cursor: Position | undefined;
  readonly expected: readonly Expected[];
}

export function readFixture(marked: string): Fixture {
  const lines: string[] = [];
  const expected: Expected[] = [];
  let cursor: Position | undefined;
  for (const line of marked.split('\n')) {
    const note = /^(\s*)(\^+)\s*([a-z][a-z -]*):\s?(.*)$/.exec(line);
    if (note !== null) {
      const [, indent, carets, kind, text] = note;
      const start = { line: lines.length - 1, character: indent.length };
      expected.push({ range: { start, end: { ...start, character: indent.length + carets.length } }, kind, text });
      continue;
    }
    const at = line.indexOf('$0');
    if (at >= 0) cursor = { line: lines.length, character: at };
    lines.push(line.replace('$0', ''));
  }
  return { text: lines.join('\n'), cursor, expected };
}

export const fixtureUri = 'file:///files/appliance.spring';

/** Snapshot of a text; `files` are what its `use` lines find, by uri. */
export async function snapshotOf(text: string, files: Readonly<Record<string, string>> = {}): Promise<Snapshot> {
  const workspace = createWorkspace({ readFile: async (uri) => files[uri] });
  workspace.open(fixtureUri, text, 1);
  const snapshot = await workspace.snapshot(fixtureUri);
  if (snapshot === undefined) throw new Error('The workspace lost an open document.');
  return snapshot;
}

export const wholeText: Range = { start: { line: 0, character: 0 }, end: { line: 10_000, character: 0 } };
