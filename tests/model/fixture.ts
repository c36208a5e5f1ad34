/**
 * Fixtures are files in the language with the expected findings under the line they belong to:
 *
 *     bend 7 mm toward gingival
 *     //   ^^^^ error unit-mismatch: is an angle
 *
 * The text after the colon is part of the message; it may be left out. Whatever is found must be expected and
 * the other way round.
 */
import { expect } from 'vitest';
import { parse } from '#grammar/parser';
import { evaluateAppliance } from '#model/evaluate';
import type { Fix, Problem } from '#model/problem';
import { resolveText } from './resolve-text';

interface Options {
  readonly files?: Readonly<Record<string, string>>;
  /** Run the mechanics as well. */
  readonly mechanics?: boolean;
}

export function checkProblems(fixture: string, options: Options = {}): void {
  const found = problemsOf(fixture, options);
  const expected = expectations(fixture);
  const shown = found.map((problem) => {
    const match = expected.find((one) => one.place === placeOf(fixture, problem) && one.code === problem.code);
    const says = match && problem.message.includes(match.text) ? match.text : problem.message;
    return `${placeOf(fixture, problem)} ${problem.severity} ${problem.code}: ${says}`;
  });
  expect(shown).toEqual(expected.map(({ place, severity, code, text }) => `${place} ${severity} ${code}: ${text}`));
}

/** The whole text after the only fix with that title, its expectations included. */
export function applyFix(fixture: string, title: string, options: Options = {}): string {
  const fixes = problemsOf(fixture, options).flatMap((problem) => problem.fixes ?? []);
  const [fix, ...others] = fixes.filter((candidate: Fix) => candidate.title === title);
  expect(others).toEqual([]);
  expect(fix, `among ${fixes.map((candidate) => candidate.title).join(', ')}`).toBeDefined();
  return [...fix.edits]
    .sort((a, b) => b.span.start - a.span.start)
    .reduce((text, { span, text: inserted }) => text.slice(0, span.start) + inserted + text.slice(span.end), fixture);
}

export function problemsOf(text: string, { files, mechanics = false }: Options = {}): Problem[] {
  const syntax = parse(text).problems;
  expect(syntax).toEqual([]);
  const file = resolveText(text, files);
  const evaluated = mechanics ? file.appliances.map((appliance) => evaluateAppliance(appliance, text)) : [];
  return [...file.problems, ...evaluated.flatMap(({ problems }) => problems)].sort(
    (a, b) => a.span.start - b.span.start || a.span.end - b.span.end,
  );
}

/** "line:column+length" */
function placeOf(text: string, { span }: Problem): string {
  const before = text.slice(0, span.start).split('\n');
  return `${before.length}:${before[before.length - 1].length}+${span.end - span.start}`;
}

function expectations(fixture: string) {
  const lines = fixture.split('\n');
  let code = 0;
  return lines.flatMap((line, index) => {
    const mark = /^(\s*\/\/\s*)(\^+) (error|warning|information) ([a-z-]+)(?:: (.*))?$/.exec(line);
    if (!mark) {
      code = index + 1;
      return [];
    }
    const [, indent, carets, severity, id, text = ''] = mark;
    return [{ place: `${code}:${indent.length}+${carets.length}`, severity, code: id, text }];
  });
}
