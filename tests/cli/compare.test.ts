import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SMALLEST_CHANGE } from '#report/comparison';
import { comparisonText } from '#report/comparison-text';
import { plain } from '#report/paint';
import { buildCommand, type Command } from './command';

let command: Command;

const design = (parameter: string, requirement = 'require when engaged { molar.moment.crown_distal >= 1 N mm }') =>
  `use "alloys"
appliance arm {
  param tip_back = ${parameter}
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
  ${requirement}
}
`;

/** Met at 10 deg and missed at 5: the moment is in proportion to so small a bend, and 11.7 N mm at 10 deg. */
const between = 'require when engaged { molar.moment.crown_distal >= 8 N mm }';

beforeAll(async () => {
  command = await buildCommand();
  command.write('ten.spring', design('10 deg'));
  command.write('ten-laid-out.spring', `// Another word, another place.\n\n${design('10.0 deg')}`);
  command.write('five.spring', design('5 deg'));
  command.write('ten-asked.spring', design('10 deg', between));
  command.write('five-asked.spring', design('5 deg', between));
  command.write(
    'two.spring',
    `${design('10 deg')}${design('10 deg').replace('use "alloys"', '').replace('arm', 'leg')}`,
  );
  command.write('broken.spring', design('10 deg').replace('path running', 'path walking'));
});

afterAll(() => command.remove());

describe('compare', () => {
  it('says that no number changes where only the words do', () => {
    const { code, out } = command.run('compare', 'ten.spring', 'ten-laid-out.spring');
    expect(code).toBe(0);
    expect(out).toMatch(/^arm: no number changes\n/);
    expect(out).not.toContain('→');
  });

  it('tables parameters, lengths, bends and forces that changed, and nothing else', () => {
    const { code, out } = command.run('compare', '--units', 'N', 'ten.spring', 'five.spring');
    expect(code).toBe(0);
    expect(out).toMatch(/^ {2}Parameters\n {4}tip_back +10 deg +→ +5 deg$/m);
    expect(out).toMatch(/^ {4}bend 1, angle +10 deg +→ +5 deg$/m);
    // 5 deg of arc less, at a radius to the centre line of 2 x 0.017 in.
    expect(out).toMatch(/^ {4}developed length +20\.15 mm +→ +20\.08 mm$/m);
    expect(out).not.toMatch(/bend 1, radius|section and alloy|seat of molar/);
    // A one-couple system of a straight wire is in proportion to a small bend (Euler and Bernoulli).
    const tip = /molar, tip +tips the crown distally, ([\d.]+) N mm +→ +tips the crown distally, ([\d.]+) N mm/.exec(
      out,
    );
    expect(Number(tip![1]) / Number(tip![2])).toBeGreaterThan(1.9);
    expect(Number(tip![1]) / Number(tip![2])).toBeLessThan(2.1);
  });

  it('fails where a requirement is not met any more, and only then', () => {
    const worse = command.run('compare', 'ten-asked.spring', 'five-asked.spring');
    expect(worse.code).toBe(1);
    expect(worse.out).toMatch(/^arm: a requirement is not met any more$/m);
    expect(worse.out).toMatch(/require engaged: molar\.moment\.crown_distal >= 8 N mm +met, is .+ → +missed, is /);
    expect(command.run('compare', 'five-asked.spring', 'ten-asked.spring').code).toBe(0);
  });

  it('tells of appliances that are new or gone', () => {
    expect(command.run('compare', 'ten.spring', 'two.spring').out).toMatch(
      /^arm: no number changes\n[\s\S]*^leg: is new\n/m,
    );
    expect(command.run('compare', 'two.spring', 'ten.spring').out).toMatch(/^leg: is gone$/m);
  });

  it('writes Markdown with the verdict that got worse marked', () => {
    const { out } = command.run('compare', '--format', 'markdown', 'ten-asked.spring', 'five-asked.spring');
    const rows = out.split('\n').filter((line) => line.startsWith('|'));
    expect(rows.length).toBeGreaterThan(5);
    for (const row of rows) expect(row.match(/(?<!\\)\|/g)).toHaveLength(5);
    expect(out).toContain('| Parameters | tip_back | 10 deg | 5 deg |');
    expect(out).toMatch(/\*\*missed, is .+\*\*/);
    // What fills pages is folded away; a table in it needs an empty line before it (GitHub's Markdown).
    expect(out).toMatch(/<details><summary>Stage by stage: \d+ figures<\/summary>\n\n\| [\s\S]+\|\n\n<\/details>/);
    expect(out.slice(0, out.indexOf('<details>'))).not.toContain('molar, tip');
  });

  it('says in one line what cannot be compared', () => {
    const broken = command.run('compare', 'ten.spring', 'broken.spring');
    expect(broken).toMatchObject({ code: 1, out: '' });
    expect(broken.err).toMatch(/^broken\.spring:5:8: error: .+ \[syntax\]\n$/);
    expect(command.run('compare', 'ten.spring', 'absent.spring')).toEqual({
      code: 2,
      out: '',
      err: 'No such file or folder: absent.spring.\n',
    });
  });

  it('states the tolerances that it goes by', () => {
    const text = comparisonText([], plain);
    const { length, force, moment, stress, angle, part } = SMALLEST_CHANGE;
    for (const one of [
      `${length} mm`,
      `${force} N,`,
      `${moment} N mm`,
      `${stress} MPa`,
      `${angle} deg`,
      `${100 * part} %`,
    ])
      expect(text).toContain(one);
  });
});
