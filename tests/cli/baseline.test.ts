/** Figures that are written down and compared with: they change only where that is asked for. */
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { baselineText, readBaseline } from '#report/baseline';
import { type ApplianceFigures, compareFigures, isChanged, SMALLEST_CHANGE } from '#report/comparison';
import { buildCommand, type Command } from './command';

// A process for each command: many in one test.
vi.setConfig({ testTimeout: 120_000 });

let command: Command;
const read = (path: string) => readFileSync(join(command.folder, path), 'utf8');
const there = (path: string) => existsSync(join(command.folder, path));

/** One couple: quick to solve. */
const arm = (name: string, tipBack: string) => `use "alloys"
appliance ${name} {
  param tip_back = ${tipBack}
  wire 0.017 in x 0.025 in of beta_titanium
  path running mesial {
    straight 4 mm
    seat molar
    straight 3 mm
    preactivate tip_back toward gingival
    straight 9 mm
    seat canine
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 2 mm
  hook canine
  require when engaged { molar.moment.crown_distal >= 8 N mm }
}
`;

beforeAll(async () => {
  command = await buildCommand();
});

afterAll(() => command.remove());

beforeEach(() => {
  for (const name of ['designs', 'kept']) rmSync(join(command.folder, name), { recursive: true, force: true });
  command.write('designs/one.spring', arm('one', '10 deg'));
  command.write('designs/deep/two.spring', arm('two', '9 deg'));
});

const compare = (...args: string[]) => command.run('compare', '--baseline', 'kept', ...args);

describe('compare --baseline', () => {
  it('writes the figures down once, one a line, and then finds no change', () => {
    expect(compare('--update')).toEqual({
      code: 0,
      out: 'kept/designs/deep/two.json\nkept/designs/one.json\n',
      err: '',
    });
    const text = read('kept/designs/one.json');
    expect(baselineText(readBaseline(text)!)).toBe(text);
    expect(text).not.toContain(command.folder);
    expect(text.split('\n').filter((line) => line.includes('"group":"Engaged"')).length).toBeGreaterThan(10);
    expect(compare()).toMatchObject({ code: 0, out: expect.stringMatching(/^No number changes\.\n/), err: '' });
    expect(compare('--update')).toEqual({ code: 0, out: '', err: '' });
  });

  it('is content with another layout and other words', () => {
    compare('--update');
    command.write('designs/one.spring', `// Another word, another place.\n\n${arm('one', '10.0 deg')}`);
    expect(compare().code).toBe(0);
    const before = statSync(join(command.folder, 'kept/designs/one.json')).mtimeMs;
    expect(compare('--update').out).toBe('');
    expect(statSync(join(command.folder, 'kept/designs/one.json')).mtimeMs).toBe(before);
  });

  it('fails where a figure differs, better or worse, until it is written down on purpose', () => {
    compare('--update');
    command.write('designs/one.spring', arm('one', '11 deg'));
    const { code, out, err } = compare('designs');
    expect(code).toBe(1);
    expect(out).toMatch(/^one, designs\/one\.spring\n {2}Parameters\n {4}tip_back +10 deg +→ +11 deg$/m);
    expect(out).not.toContain('two');
    expect(err).toBe('If that is meant to be: the same command with --update writes it down.\n');
    expect(compare('designs/deep').code).toBe(0);
    expect(compare('--format', 'markdown').out).toContain('| Parameters | tip_back | 10 deg | 11 deg |');
    expect(compare('--update', 'designs').out).toBe('kept/designs/one.json\n');
    expect(compare().code).toBe(0);
  });

  it('tells of files that are new, and of those that are gone', () => {
    compare('--update', 'designs/one.spring');
    expect(compare().out).toMatch(/^two, designs\/deep\/two\.spring: is new$/m);
    compare('--update');
    rmSync(join(command.folder, 'designs/deep'), { recursive: true });
    expect(compare()).toMatchObject({
      code: 1,
      out: expect.stringMatching(/^two, designs\/deep\/two\.spring: is gone$/m),
    });
    expect(compare('designs/deep').code).toBe(1);
    expect(compare('designs/one.spring').code).toBe(0);
    expect(compare('--update').out).toBe('kept/designs/deep/two.json is gone\n');
    expect(there('kept/designs/deep/two.json')).toBe(false);
    expect(compare().code).toBe(0);
  });

  it('is told in the units in which it was written', () => {
    compare('--update', '--units', 'N');
    command.write('designs/one.spring', arm('one', '11 deg'));
    expect(compare('designs/one.spring').out).toMatch(
      /canine, vertical force +intrudes, [\d.]+ N +→ +intrudes, [\d.]+ N\n/,
    );
    expect(compare('--update', '--units', 'gf', 'designs').out).toBe(
      'kept/designs/deep/two.json\nkept/designs/one.json\n',
    );
  });

  it('says in one line what it cannot use, and writes nothing down for it', () => {
    compare('--update');
    const before = read('kept/designs/one.json');
    command.write('designs/one.spring', arm('one', '11 deg').replace('path running', 'path walking'));
    const broken = /^designs\/one\.spring:5:8: error: .+ \[syntax\]\n$/;
    expect(compare()).toMatchObject({ code: 1, err: expect.stringMatching(broken) });
    expect(compare('--update')).toMatchObject({ code: 1, out: '', err: expect.stringMatching(broken) });
    expect(read('kept/designs/one.json')).toBe(before);
    command.write('designs/one.spring', arm('one', '10 deg'));
    command.write('kept/designs/one.json', '{"format": "springwright baseline 1"');
    const told = 'kept/designs/one.json: error: is no baseline of this version; --update writes it anew\n';
    expect(compare()).toMatchObject({ code: 1, err: told });
    expect(compare('--update').out).toBe('kept/designs/one.json\n');
    expect(read('kept/designs/one.json')).toBe(before);
  });

  it.each([
    [['--update', 'designs'], /--update goes with --baseline/],
    [['--baseline', 'kept', '--revision', 'HEAD'], /--baseline goes with one file or folder/],
    [['--baseline', 'kept', 'designs', 'designs'], /--baseline goes with one file or folder/],
    [['--baseline', 'kept', 'nowhere'], /^No such file or folder: nowhere\.$/m],
  ])('%j is wrong usage', (args, message) => {
    const { code, out, err } = command.run('compare', ...args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(message);
    expect(err.match(/\n/g)).toHaveLength(1);
  });
});

it('keeps to files below the working folder', () => {
  const outside = mkdtempSync(join(tmpdir(), 'springwright-outside-'));
  writeFileSync(join(outside, 'x.spring'), arm('x', '10 deg'));
  const { code, err } = compare('--update', outside);
  expect(code).toBe(2);
  expect(err).toMatch(/^Give files below the working folder, not .*x\.spring\.\n$/);
  rmSync(outside, { recursive: true });
});

describe('the tolerances', () => {
  const force = (value: number): ApplianceFigures => ({
    name: 'arm',
    figures: [{ group: 'Engaged', name: 'canine, vertical force', text: `${value} N`, kind: 'force', value }],
  });
  const required = (value: number, outcome: 'met' | 'missed' = 'met'): ApplianceFigures => ({
    name: 'arm',
    figures: [{ group: 'Requirements', name: 'x', text: `${outcome}, is ${value}`, kind: 'required', value, outcome }],
  });
  const changed = (before: ApplianceFigures, after: ApplianceFigures) =>
    compareFigures([before], [after]).some(isChanged);

  it('are those that are stated: the last digits of a solver are no change, and a thousandth of a newton is', () => {
    expect(changed(force(0.5), force(0.5 + 0.9 * SMALLEST_CHANGE.force))).toBe(false);
    expect(changed(force(0.5), force(0.5 + 1.1 * SMALLEST_CHANGE.force))).toBe(true);
    expect(changed(required(973.49), required(973.51))).toBe(false);
    expect(changed(required(973), required(975))).toBe(true);
  });

  it('never hide that a requirement is not met any more', () => {
    expect(changed(required(973.49), required(973.51, 'missed'))).toBe(true);
  });

  it('are not used up by what is written down', () => {
    const { appliances } = readBaseline(baselineText({ units: { force: 'N' }, appliances: [force(0.123456789)] }))!;
    // Seven digits, as reports have.
    expect(appliances[0].figures[0].value).toBe(0.1234568);
  });
});
