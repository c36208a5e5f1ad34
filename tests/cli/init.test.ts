/** `init` starts a folder, and never writes over what is there. */
import { existsSync, mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { format } from '#grammar/printer';
import { buildCommand, type Command } from './command';

let command: Command;
const read = (path: string) => readFileSync(join(command.folder, path), 'utf8');

beforeAll(async () => {
  command = await buildCommand();
});

afterAll(() => command.remove());

describe('init', () => {
  it('starts a folder with a file that is laid out, without findings, and meets its requirements', () => {
    const { code, out, err } = command.run('init', 'new/springs');
    expect([code, err]).toEqual([0, '']);
    expect(out).toBe('new/springs/tip-back-arm.spring\nnew/springs/README.md\n\nNow: springwright check new/springs\n');
    const text = read('new/springs/tip-back-arm.spring');
    expect(format(text)).toBe(text);
    expect(text.match(/\/\/ /g)!.length).toBeGreaterThan(5);
    const checked = command.run('check', '--fail-on', 'hint', 'new/springs');
    expect(checked).toMatchObject({ code: 0, err: '' });
    expect(checked.out).toMatch(/4 requirements: 4 met; 0 errors; 0 warnings\n$/);
    expect(command.run('analyze', '--fail-on', 'hint', '--plan', 'new/springs').code).toBe(0);
    expect(read('new/springs/README.md')).toContain('a licensed practitioner decides');
  });

  it('takes the working folder, and leaves what is there, a broken link too', () => {
    command.write('README.md', 'mine');
    symlinkSync('nowhere.spring', join(command.folder, 'tip-back-arm.spring'));
    const { code, out } = command.run('init');
    expect(code).toBe(0);
    expect(out).toBe(
      [
        'tip-back-arm.spring is there already and stays as it is',
        'README.md is there already and stays as it is',
        '',
        'Now: springwright check .',
        '',
      ].join('\n'),
    );
    expect(read('README.md')).toBe('mine');
    expect(existsSync(join(command.folder, 'nowhere.spring'))).toBe(false);
  });

  it('writes workflows with the address that is given, as the examples show them', () => {
    const { code, out } = command.run('init', 'with', '--workflow', 'OWNER/REPOSITORY@REVISION');
    expect(code).toBe(0);
    const shown = resolve(import.meta.dirname, '../../examples/pull-request/workflows');
    for (const name of ['springwright.yml', 'springwright-comment.yml']) {
      expect(out).toContain(`with/.github/workflows/${name}\n`);
      expect(read(`with/.github/workflows/${name}`)).toBe(readFileSync(join(shown, name), 'utf8'));
    }
    command.run('init', 'other', '--workflow', 'some-one/springs.git@v1.0/x');
    expect(read('other/.github/workflows/springwright.yml')).toContain(
      '- uses: some-one/springs.git/examples/pull-request@v1.0/x\n',
    );
    for (const wrong of ['springs', 'a/b', 'a/b@', 'a/b@x\n- run: y', 'a/b/c@x']) {
      expect(command.run('init', 'none', '--workflow', wrong)).toMatchObject({ code: 2, out: '' });
    }
    expect(existsSync(join(command.folder, 'none'))).toBe(false);
  });

  it('says in one line why a file cannot be written', () => {
    command.write('taken', 'a file');
    const reason = 'cannot be written: its folder cannot be made, a file of this name is in the way';
    expect(command.run('init', 'taken')).toEqual({ code: 2, out: '', err: `taken/tip-back-arm.spring ${reason}\n` });
    mkdirSync(join(command.folder, 'folder/tip-back-arm.spring'), { recursive: true });
    expect(command.run('init', 'folder').out).toMatch(/^folder\/tip-back-arm\.spring is there already/);
  });
});
