/** The problem matcher of the manifest reads every finding that `springwright check` prints. Needs a build, as `npm test` makes it. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import type { CheckReport } from '#report/schema';

const root = path.resolve(import.meta.dirname, '../..');
const { problemMatchers } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')).contributes;
const { regexp, ...groups } = problemMatchers[0].pattern;

function check(...args: string[]): string {
  const program = path.join(root, 'dist', 'springwright.cjs');
  const paths = [
    'examples/errors/unit-mismatch.spring',
    'examples/errors/requirement-missed.spring',
    'examples/errors/unused-parameter.spring',
  ];
  return spawnSync(process.execPath, [program, 'check', ...args, ...paths], { cwd: root, encoding: 'utf8' }).stdout;
}

test('every finding is read with its place, gravity and id, and nothing else is', () => {
  const report: CheckReport = JSON.parse(check('--format', 'json'));
  const wanted = report.files.flatMap(({ path: file, problems }) =>
    problems.map(({ line, column, severity, code }) => ({ file, line, column, severity, code })),
  );
  expect(wanted.length).toBeGreaterThan(2);
  const read = check()
    .split('\n')
    .flatMap((line) => {
      const found = new RegExp(regexp).exec(line);
      if (!found) return [];
      const word = found[groups.severity];
      return [
        {
          file: found[groups.file],
          line: Number(found[groups.line]),
          column: Number(found[groups.column]),
          severity: word === 'note' ? 'information' : word,
          code: found[groups.code],
        },
      ];
    });
  expect(read).toEqual(wanted);
});
