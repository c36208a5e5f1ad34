/** A folder against a revision of its git repository: which files changed, and what is told of them. */
import { execFileSync } from 'node:child_process';
import { readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { buildCommand, type Command } from './command';

// A process for each command: many in one test.
vi.setConfig({ testTimeout: 120_000 });

let command: Command;

/** One couple: quick to solve. */
const arm = (name: string, tipBack = '10 deg', uses = '', more = '') => `use "alloys"
${uses}appliance ${name} {
  wire 0.017 in x 0.025 in of beta_titanium
  path running mesial {
    straight 4 mm
    seat molar
    straight 3 mm
    preactivate ${tipBack} toward gingival
    straight 9 mm
    seat canine
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 2 mm
  hook canine
  ${more}
}
`;
/** Met at 10 deg and missed at 5. */
const asked = 'require when engaged { molar.moment.crown_distal >= 8 N mm }';

function git(...args: string[]): void {
  const who = ['-c', 'user.name=Somebody', '-c', 'user.email=somebody@example.invalid', '-c', 'commit.gpgsign=false'];
  execFileSync('git', [...who, ...args], { cwd: command.folder, stdio: 'pipe' });
}

const paths = (...args: string[]) => {
  const { out } = command.run('check', '--format', 'json', ...args);
  return (JSON.parse(out) as { files: { path: string }[] }).files.map(({ path }) => path);
};

beforeAll(async () => {
  command = await buildCommand();
  command.write('parts/angles.spring', 'let shared = 10 deg\n');
  command.write('parts/more.spring', 'use "./angles.spring"\n\nlet twice = 2 * shared\n');
  command.write('designs/own.spring', arm('own', '10 deg', '', asked));
  command.write('designs/same.spring', arm('same'));
  command.write('designs/words.spring', arm('words'));
  command.write('designs/indirect.spring', arm('indirect', 'twice', 'use "../parts/more.spring"\n'));
  command.write('designs/gone.spring', arm('gone'));
  command.write('designs/old-name.spring', arm('travels'));
  command.write('designs/mended.spring', arm('mended').replace('path running', 'path walking'));
  git('init', '--quiet', '--initial-branch', 'main');
  git('add', '--all');
  git('commit', '--quiet', '--message', 'ten degrees');
  command.write('parts/angles.spring', 'let shared = 7 deg\n');
  command.write('designs/own.spring', arm('own', '5 deg', '', asked));
  command.write('designs/words.spring', `// Only words.\n${arm('words')}`);
  command.write('designs/new one.spring', arm('arrives'));
  command.write('designs/mended.spring', arm('mended'));
  rmSync(join(command.folder, 'designs/gone.spring'));
  renameSync(join(command.folder, 'designs/old-name.spring'), join(command.folder, 'designs/new-name.spring'));
  command.write('designs/new-name.spring', arm('travels', '12 deg'));
  command.write('notes/empty.txt', '');
});

afterAll(() => command.remove());

describe('--since', () => {
  it('takes files that changed, by themselves or by what they use, and that are there', () => {
    expect(paths('--since', 'HEAD')).toEqual([
      'designs/indirect.spring',
      'designs/mended.spring',
      'designs/new one.spring',
      'designs/new-name.spring',
      'designs/own.spring',
      'designs/words.spring',
      'parts/angles.spring',
      'parts/more.spring',
    ]);
    expect(paths('--since', 'HEAD', 'designs/same.spring', 'designs/own.spring')).toEqual(['designs/own.spring']);
  });

  it('has nothing to say where nothing changed, and the exit code of the rest', () => {
    const { code, out } = command.run('check', '--since', 'HEAD', 'designs/same.spring');
    expect([code, out]).toEqual([0, '0 files; 0 appliances; 0 requirements: 0 met; 0 errors; 0 warnings\n']);
    expect(command.run('check', '--since', 'HEAD', 'designs/gone.spring').code).toBe(0);
    expect(command.run('check', '--since', 'HEAD', 'designs').code).toBe(1);
  });

  it('says in one line what is wrong', () => {
    for (const [args, message] of [
      [['--since', 'nonsense'], /^This repository has no revision "nonsense"\./],
      [['--since', 'HEAD', '-'], /^--since goes with files, not with standard input\./],
      [['--since', 'HEAD', 'notes'], /^No \.spring files in notes\./],
      [['--since', 'HEAD', 'nowhere'], /^No such file or folder: nowhere\./],
    ] as const) {
      const outcome = command.run('check', ...args);
      expect(outcome).toMatchObject({ code: 2, out: '' });
      expect(outcome.err).toMatch(message);
      expect(outcome.err.match(/\n/g)).toHaveLength(1);
    }
  });
});

describe('compare --revision with a folder', () => {
  it('tells of changed appliances alone, with their file; a file under another name is the same', () => {
    const { code, out, err } = command.run('compare', '--revision', 'HEAD', 'designs');
    expect(code).toBe(1);
    expect(err).toMatch(/^HEAD:designs\/mended\.spring:4:8: error: .+ \[syntax\]\n$/);
    expect(out.match(/^\w.*/gm)).toEqual(
      [
        'indirect, designs/indirect.spring',
        'mended, designs/mended.spring: is new',
        'arrives, designs/new one.spring: is new',
        'travels, designs/new-name.spring (was designs/old-name.spring)',
        'own, designs/own.spring: a requirement is not met any more',
        expect.stringMatching(/^Changes below/),
        expect.stringMatching(/^Calculated estimates/),
      ].toSpliced(0, 0, 'gone, designs/gone.spring: is gone'),
    );
    expect(out).toMatch(/bend 1, angle +20 deg +→ +14 deg/);
  });

  it('is the whole working folder where no path is given, and puts what it drew beside the Markdown', () => {
    const args = ['compare', '--revision', 'HEAD', '--format', 'markdown', '--drawing', 'out.png'];
    const { out } = command.run(...args);
    expect(out).toMatch(/^!\[Before and after, to scale\]\(<out\.png>\)\n/);
    expect(out).toContain('### own, designs/own.spring: a requirement is not met any more');
    expect(out).toContain('Cannot be compared: `HEAD:designs/mended.spring:4:8: error: ');
    expect(out).not.toContain('### same');
    expect(out).not.toContain('### words');
    // The signature of PNG (ISO/IEC 15948).
    expect([...readFileSync(join(command.folder, 'out.png')).subarray(0, 4)]).toEqual([0x89, 0x50, 0x4e, 0x47]);
    rmSync(join(command.folder, 'out.png'));
  });

  it('says so where no number changes', () => {
    expect(command.run('compare', '--revision', 'HEAD', '--to', 'HEAD', '.')).toMatchObject({
      code: 0,
      out: expect.stringMatching(/^No number changes\.\n/),
    });
  });
});
