/** Files that cannot be used: each command says so in one line, with the right exit code, and writes nothing. */
import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { AnalyzeReport } from '#report/schema';
import { buildCommand, type Command, type Outcome } from './command';

// A process for each command: many in one test.
vi.setConfig({ testTimeout: 120_000 });

let command: Command;

/** One couple: quick to solve. */
const arm = (uses = '') => `use "alloys"
${uses}appliance arm {
  wire 0.017 in x 0.025 in of beta_titanium
  path running mesial {
    straight 4 mm
    seat molar
    straight 3 mm
    preactivate 10 deg toward gingival
    straight 9 mm
    seat canine
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 2 mm
  hook canine
  require when engaged { molar.moment.crown_distal >= 1 N mm }
}
`;

const root = process.getuid?.() === 0;

/** What is wrong with the file of that name; lines start with the name. */
const unusable: readonly (readonly [string, string])[] = [
  ['binary.spring', ': error: is a binary file, not text'],
  ['utf-16.spring', ': error: is a binary file, not text'],
  ['latin.spring', ': error: is not valid UTF-8 text'],
  ['huge.spring', ': error: is 10240 kB large; files up to 512 kB are read'],
  ['loop.spring', ': error: cannot be read: its links lead in a circle'],
  ['dangling.spring', ': error: cannot be read: there is no such file or folder'],
  ['secret.spring', ': error: cannot be read: no permission'],
  ['pipe.spring', ': error: is a pipe or a device, not a file'],
  [
    'lost.spring',
    ':2:5: error: There is no file "./gone.spring" beside this one. The path is relative to this file and ends in .spring. [module-not-found]',
  ],
  [
    'uses-binary.spring',
    ':2:5: error: "./binary.spring" is a binary file, not text. What is used is another .spring file. [module-not-found]',
  ],
];

/** As somebody who is bound by the rights of files, which the superuser is not. */
function run(...args: string[]): Outcome {
  const options = { cwd: command.folder, encoding: 'utf8', ...(root && { uid: 65534, gid: 65534 }) } as const;
  const { status, stdout, stderr } = spawnSync(process.execPath, [command.program, ...args], options);
  return { code: status, out: stdout, err: stderr };
}

beforeAll(async () => {
  command = await buildCommand('handout');
  for (const folder of [command.folder, dirname(command.program)]) chmodSync(folder, 0o755);
  command.write('binary.spring', new Uint8Array([0x7f, 0x45, 0, 1, 2, 3]));
  command.write('utf-16.spring', Buffer.from(arm(), 'utf16le'));
  command.write('latin.spring', new Uint8Array([...Buffer.from('// caf'), 0xe9, 0x0a]));
  command.write('huge.spring', `// ${'x'.repeat(10 * 1024 * 1024 - 3)}`);
  command.write('empty.spring', '');
  command.write('blank.spring', '\ufeff// only words\n\n');
  command.write('good.spring', arm());
  command.write('byte-order-mark.spring', `\ufeff${arm()}`);
  command.write('lost.spring', arm('use "./gone.spring"\n'));
  command.write('uses-binary.spring', arm('use "./binary.spring"\n'));
  command.write('secret.spring', arm());
  chmodSync(join(command.folder, 'secret.spring'), 0);
  symlinkSync('loop.spring', join(command.folder, 'loop.spring'));
  symlinkSync('nowhere.spring', join(command.folder, 'dangling.spring'));
  execFileSync('mkfifo', [join(command.folder, 'pipe.spring')]);
  command.write('folder/notes.txt', 'no springs here');
  symlinkSync('..', join(command.folder, 'folder/circle'));
  mkdirSync(join(command.folder, 'out'));
  chmodSync(join(command.folder, 'out'), 0o777);
});

afterAll(() => command.remove());

describe('check and analyze', () => {
  it('say one line of each file that cannot be used, and the rest still runs', () => {
    const names = [...unusable.map(([name]) => name), 'good.spring'];
    const checked = run('check', ...names);
    expect([checked.code, checked.err]).toEqual([1, '']);
    for (const [name, message] of unusable) {
      const lines = checked.out.split('\n').filter((line) => line.startsWith(`${name}:`));
      expect(lines).toEqual([`${name}${message}`]);
    }
    expect(checked.out).toMatch(/^arm good\.spring:2\n {2}met +engaged/m);
    expect(checked.out).toMatch(/; 10 errors; 0 warnings\n$/);
    expect(run('analyze', ...names).code).toBe(1);
  });

  it('exit with 1 for each of them, whatever findings are to fail', () => {
    for (const [name] of unusable.slice(0, 4)) {
      expect([name, run('check', '--fail-on', 'error', name).code]).toEqual([name, 1]);
    }
  });

  it('find nothing in an empty file, and say so as a note', () => {
    const checked = run('check', 'empty.spring', 'blank.spring');
    expect(checked).toMatchObject({ code: 0, err: '' });
    expect(checked.out).toContain('empty.spring:1:1: note: There is nothing to compute in this file yet.');
    expect(run('check', '--fail-on', 'information', 'empty.spring').code).toBe(1);
  });

  it('read a file behind its byte order mark', () => {
    expect(run('check', 'byte-order-mark.spring')).toMatchObject({ code: 0, err: '' });
  });

  it('keep the place of such files in the JSON', () => {
    const schema = JSON.parse(readFileSync(resolve(import.meta.dirname, '../../server/report.schema.json'), 'utf8'));
    const validate = new Ajv2020({ strict: true }).compile(schema);
    const report = JSON.parse(run('analyze', '--format', 'json', 'latin.spring', 'good.spring').out) as AnalyzeReport;
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(report.files.map(({ path, unreadable }) => [path, unreadable])).toEqual([
      ['good.spring', null],
      ['latin.spring', 'is not valid UTF-8 text'],
    ]);
    expect(report.summary.errors).toBe(1);
  });
});

describe.each([
  ['draw', '-o', 'out/a.svg'],
  ['sheet', '-o', 'out/a.pdf'],
  ['handout', '-o', 'out/a.html'],
  ['compare', 'good.spring'],
])('%s', (...args) => {
  it('writes nothing but one line on what it cannot use, and exits with 1', () => {
    for (const [name, message] of unusable) {
      expect(run(...args, name)).toEqual({ code: 1, out: '', err: `${name}${message}\n` });
    }
    expect(readdirSync(join(command.folder, 'out'))).toEqual([]);
  });

  it('takes a file that is not there, and a folder without .spring files, as wrong usage', () => {
    expect(run(...args, 'missing.spring')).toEqual({
      code: 2,
      out: '',
      err: 'No such file or folder: missing.spring.\n',
    });
    expect(run(...args, 'folder')).toEqual({ code: 2, out: '', err: 'No .spring files in folder.\n' });
  });
});

describe('format', () => {
  it('leaves alone what it cannot read', () => {
    // What a file uses does not matter to how it is laid out.
    for (const [name, message] of unusable.filter(([name]) => !/lost|uses/.test(name))) {
      expect(run('format', name)).toEqual({ code: 1, out: '', err: `${name}${message}\n` });
    }
    expect([...readFileSync(join(command.folder, 'binary.spring'))]).toEqual([0x7f, 0x45, 0, 1, 2, 3]);
    expect(run('format', '--check', 'lost.spring').code).toBe(0);
  });

  it('says why a file cannot be written', () => {
    command.write('locked/wide.spring', arm().replace('straight 3 mm', 'straight   3 mm'));
    chmodSync(join(command.folder, 'locked'), 0o555);
    expect(run('format', 'locked')).toEqual({
      code: 1,
      out: '',
      err: 'locked/wide.spring: error: cannot be written: no permission\n',
    });
    expect(readdirSync(join(command.folder, 'locked'))).toEqual(['wide.spring']);
  });
});

describe('every command', () => {
  it('that draws has nothing to write of an empty file', () => {
    for (const name of ['draw', 'sheet', 'handout']) {
      expect(run(name, 'empty.spring')).toEqual({ code: 2, out: '', err: 'empty.spring has no appliance.\n' });
    }
  });

  it('says in one line where it cannot write', () => {
    const absent = 'cannot be written: there is no such file or folder\n';
    expect(run('draw', 'good.spring', '-o', 'no/such/a.svg')).toEqual({
      code: 2,
      out: '',
      err: `no/such/a.svg ${absent}`,
    });
    mkdirSync(join(command.folder, 'out/folder'));
    const taken = 'out/folder cannot be written: it is a folder\n';
    expect(run('sheet', 'good.spring', '-o', 'out/folder')).toEqual({ code: 2, out: '', err: taken });
    expect(readdirSync(join(command.folder, 'out'))).toEqual(['folder']);
  });

  it('follows no links in a folder, so that circles of them have an end', () => {
    rmSync(join(command.folder, 'folder/notes.txt'));
    command.write('folder/one.spring', arm());
    expect(run('check', 'folder').out).toMatch(/^1 file; 1 appliance;/m);
  });
});
