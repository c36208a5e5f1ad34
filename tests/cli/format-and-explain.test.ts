import { chmodSync, lstatSync, readFileSync, statSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCommand, type Command } from './command';

let command: Command;
const read = (path: string) => readFileSync(join(command.folder, path), 'utf8');

const untidy = 'let   arm=9   mm // long\nlet b = 2 mm // short\n';
const tidy = 'let arm = 9 mm // long\nlet b = 2 mm   // short\n';

beforeAll(async () => {
  command = await buildCommand();
});

afterAll(() => command.remove());

describe('format', () => {
  it('says with --check what is not laid out, and changes nothing', () => {
    command.write('check/untidy.spring', untidy);
    command.write('check/tidy.spring', tidy);
    const { code, out, err } = command.run('format', '--check', 'check');
    expect([code, out]).toEqual([1, '']);
    expect(err).toMatch(/^check\/untidy\.spring: is laid out otherwise/);
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(read('check/untidy.spring')).toBe(untidy);
    expect(command.run('format', '--check', 'check/tidy.spring')).toEqual({ code: 0, out: '', err: '' });
  });

  it('lays files out, names those that it changed, and then finds nothing more', () => {
    command.write('write/untidy.spring', untidy);
    command.write('write/tidy.spring', tidy);
    expect(command.run('format', 'write')).toEqual({ code: 0, out: 'write/untidy.spring\n', err: '' });
    expect(read('write/untidy.spring')).toBe(tidy);
    expect(command.run('format', 'write')).toEqual({ code: 0, out: '', err: '' });
  });

  it('reads from a pipe and writes to it', () => {
    expect(command.pipe(untidy, 'format', '-')).toEqual({ code: 0, out: tidy, err: '' });
    expect(command.pipe(untidy, 'format', '--check', '-').code).toBe(1);
  });

  it('keeps what it does not understand as it is, and says where', () => {
    command.write('broken.spring', `${untidy}let   ) 3\n`);
    const { code, err } = command.run('format', 'broken.spring');
    expect(code).toBe(1);
    expect(err).toMatch(/^broken\.spring:3:7: error: /);
    expect(read('broken.spring')).toContain('let   ) 3\n');
  });

  it('leaves links as links and files with their rights', () => {
    command.write('linked/target.spring', untidy);
    chmodSync(join(command.folder, 'linked/target.spring'), 0o640);
    symlinkSync('target.spring', join(command.folder, 'linked/link.spring'));
    expect(command.run('format', 'linked/link.spring').code).toBe(0);
    expect(lstatSync(join(command.folder, 'linked/link.spring')).isSymbolicLink()).toBe(true);
    expect(read('linked/target.spring')).toBe(tidy);
    expect(statSync(join(command.folder, 'linked/target.spring')).mode & 0o777).toBe(0o640);
  });

  it('says what cannot be read', () => {
    command.write('binary.spring', new Uint8Array([1, 0]));
    expect(command.run('format', 'binary.spring')).toEqual({
      code: 1,
      out: '',
      err: 'binary.spring: error: is a binary file, not text\n',
    });
  });
});

describe('explain', () => {
  it('prints the page of a finding', () => {
    const { code, out } = command.run('explain', 'bend-in-slot');
    expect(code).toBe(0);
    expect(out).toMatch(/^Bend in a slot \(bend-in-slot, error\)\n/);
    expect(out).toContain('holds the wire straight over its length');
    expect(out).toContain('It stops the computation');
    expect(command.run('explain', 'requirement-missed').out).toContain('It can be silenced');
    expect(command.run('explain', 'syntax').out).toContain('cannot be read as a statement');
  });

  it('lists every finding, each on a line', () => {
    const { out } = command.run('explain');
    const lines = out.trimEnd().split('\n');
    const ids = lines.map((line) => line.split(' ')[0]);
    expect(ids).toEqual([...ids].sort());
    expect(ids).toContain('requirement-missed');
    for (const line of lines) expect(line).toMatch(/^[a-z-]+ {2,}\S/);
  });

  it('suggests the one that was meant', () => {
    expect(command.run('explain', 'bend-in-slots')).toEqual({
      code: 2,
      out: '',
      err: 'error: there is no finding "bend-in-slots". Did you mean "bend-in-slot"?\n',
    });
  });
});
