/** `compare` between revisions of a git repository, and its drawing. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readXml } from '../drawing/svg-reading';
import { buildCommand, type Command } from './command';

let command: Command;

/** A cantilever whose tip-back comes from a module beside it. */
const arm = (name = 'arm', distance = '9 mm') => `use "alloys"
use "../parts/usual.spring"
appliance ${name} {
  wire 0.017 in x 0.025 in of beta_titanium
  path running mesial {
    straight 4 mm
    seat molar
    straight 3 mm
    tipped_back()
    straight ${distance}
    seat canine
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 2 mm
  hook canine
  require when engaged { molar.moment.crown_distal >= 8 N mm }
}
`;
const usual = (angle: string) => `part tipped_back() { preactivate ${angle} toward gingival }\n`;
const file = 'designs/arm.spring';

function git(...args: string[]): void {
  const who = ['-c', 'user.name=Somebody', '-c', 'user.email=somebody@example.invalid', '-c', 'commit.gpgsign=false'];
  execFileSync('git', [...who, ...args], { cwd: command.folder, stdio: 'pipe' });
}

function commit(message: string): void {
  git('add', '--all');
  git('commit', '--quiet', '--message', message);
}

beforeAll(async () => {
  command = await buildCommand();
  command.write('notes.txt', 'nothing yet');
  git('init', '--quiet', '--initial-branch', 'main');
  commit('no design yet');
  git('tag', 'empty');
  command.write(file, arm());
  command.write('parts/usual.spring', usual('10 deg'));
  command.write('designs/later-gone.spring', arm('spare'));
  commit('ten degrees');
  git('tag', 'ten');
  command.write('parts/usual.spring', usual('5 deg'));
  rmSync(join(command.folder, 'designs/later-gone.spring'));
  commit('five degrees');
});

afterAll(() => command.remove());

describe('compare --revision', () => {
  it('reads what the file uses from the same revision, not from disk', () => {
    const { code, out, err } = command.run('compare', '--revision', 'HEAD~1', '--units', 'N', file);
    expect(err).toBe('');
    expect(code).toBe(1);
    expect(out).toMatch(/^arm: a requirement is not met any more$/m);
    expect(out).toMatch(/bend 1, angle +10 deg +→ +5 deg/);
  });

  it('takes the working file as it lies there, saved but not committed', () => {
    command.write('parts/usual.spring', usual('10 deg'));
    try {
      const { code, out } = command.run('compare', '--revision', 'HEAD', file);
      expect(code).toBe(0);
      expect(out).toMatch(/bend 1, angle +5 deg +→ +10 deg/);
      expect(command.run('compare', '--revision', 'ten', file).out).toMatch(/^arm: no number changes$/m);
    } finally {
      git('checkout', '--quiet', '--', 'parts/usual.spring');
    }
  });

  it('compares two revisions, either way round', () => {
    expect(command.run('compare', '--revision', 'ten', '--to', 'main', file).out).toMatch(/10 deg +→ +5 deg/);
    expect(command.run('compare', '--revision', 'main', '--to', 'ten', file).out).toMatch(/5 deg +→ +10 deg/);
  });

  it('has appliances that are new where the file was not there, and gone where it is not any more', () => {
    expect(command.run('compare', '--revision', 'empty', file).out).toMatch(/^arm: is new$/m);
    expect(command.run('compare', '--revision', 'ten', 'designs/later-gone.spring')).toMatchObject({
      code: 0,
      out: expect.stringMatching(/^spare: is gone$/m),
    });
    expect(command.run('compare', '--revision', 'ten', '--to', 'empty', file).out).toMatch(/^arm: is gone$/m);
  });

  it('follows a file to another name when both are given', () => {
    const { out } = command.run('compare', '--revision', 'ten', 'designs/later-gone.spring', file);
    expect(out).toMatch(/^arm: is new$/m);
    expect(out).toMatch(/^spare: is gone$/m);
  });

  it('works through a link to the repository', () => {
    const link = join(mkdtempSync(join(tmpdir(), 'springwright-link-')), 'linked');
    symlinkSync(command.folder, link);
    const { out, err } = command.run('compare', '--revision', 'ten', join(link, file));
    expect(err).toBe('');
    expect(out).toMatch(/10 deg +→ +5 deg/);
  });

  it('says in one line what is wrong', () => {
    const outside = mkdtempSync(join(tmpdir(), 'springwright-outside-'));
    const mistakes: readonly (readonly [string[], number, RegExp])[] = [
      [['--revision', 'nonsense', file], 2, /^This repository has no revision "nonsense"\. .*HEAD~1\.\n$/],
      [['--revision', '--all', file], 2, /^This repository has no revision "--all"\. .*\n$/],
      [
        ['--revision', 'ten', 'designs/never.spring'],
        2,
        /^No such file: designs\/never\.spring is neither in ten nor .*\n$/,
      ],
      [['--revision', 'ten', 'notes.txt'], 2, /^Not a \.spring file: notes\.txt\.\n$/],
      [['--revision', 'ten', join(outside, 'x.spring')], 2, /^This file is not in a git repository: .*\n$/],
      [['--to', 'ten', file], 2, /--to goes with --revision/],
      [[file], 2, /give two files, or one with --revision/],
      [['--revision', 'ten', '--drawing', 'x.pdf', file], 2, /written as \.svg or \.png, not as x\.pdf/],
    ];
    for (const [args, code, message] of mistakes) {
      const outcome = command.run('compare', ...args);
      expect(outcome.err).toMatch(message);
      expect(outcome).toMatchObject({ code, out: '' });
    }
    rmSync(outside, { recursive: true });
  });

  it('says where a module is not in the revision, rather than take it from disk', () => {
    command.write('designs/other.spring', arm('other').replace('usual.spring', 'absent.spring'));
    commit('a design without its module');
    command.write('parts/absent.spring', usual('10 deg'));
    const { code, err } = command.run('compare', '--revision', 'HEAD', 'designs/other.spring');
    expect(code).toBe(1);
    expect(err).toMatch(/^HEAD:designs\/other\.spring:\d+:5: error: .*absent\.spring.* \[module-not-found\]\n$/);
  });
});

describe('compare --drawing', () => {
  it('lays the earlier wire over the later as a line of another kind, named, and Markdown shows it', () => {
    const args = ['compare', '--revision', 'ten', '--format', 'markdown', '--drawing', 'out put.svg', file];
    const { out } = command.run(...args);
    expect(out).toMatch(/^!\[Before and after, to scale\]\(<out put\.svg>\)\n/);
    const text = readFileSync(join(command.folder, 'out put.svg'), 'utf8');
    const svg = readXml(text.replace(/^<\?xml[^>]*>\s*/, ''));
    expect(JSON.stringify(svg)).toContain('"wire compared"');
    expect(text).toContain('>arm: after<');
    expect(text).toContain('>before<');
    // Told apart without colour: dashes.
    expect(text).toMatch(/\.compared \{[^}]*stroke-dasharray: [\d. ]+/);
  });

  it('puts one beside the other to the same scale', () => {
    command.run('compare', '--revision', 'ten', '--drawing', 'beside.svg', '--layout', 'beside', file);
    const text = readFileSync(join(command.folder, 'beside.svg'), 'utf8');
    expect(text).toContain('>arm: before<');
    expect(text).toContain('>arm: after<');
    const drawn = [
      ...text.matchAll(
        /width="([\d.]+)" height="[\d.]+" xmlns[^>]*viewBox="0 0 ([\d.]+) [\d.]+"[^>]*data-scale="([\d.]+)"/g,
      ),
    ];
    expect(drawn).toHaveLength(2);
    const [first, second] = drawn.map(([, width, canvas, scale]) => (Number(scale) * Number(width)) / Number(canvas));
    expect(first).toBeCloseTo(second, 6);
  });

  it('draws what is new or gone by itself, and nothing where no number changes', () => {
    command.run('compare', '--revision', 'empty', '--drawing', 'new.svg', file);
    expect(readFileSync(join(command.folder, 'new.svg'), 'utf8')).toContain('>arm: new<');
    const { out } = command.run('compare', '--revision', 'HEAD', '--drawing', 'same.svg', '--format', 'markdown', file);
    expect(out).toContain('### arm: no number changes');
    expect(out).not.toContain('![');
    expect(existsSync(join(command.folder, 'same.svg'))).toBe(false);
  });
});
