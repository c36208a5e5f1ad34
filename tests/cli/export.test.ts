/** `draw` and `sheet` as they are called in a shell. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCommand, type Command } from './command';

let command: Command;
const run = (...args: string[]) => command.run(...args);

const loop = `use "alloys"
use "loops"
appliance closing {
  wire 0.016 in x 0.022 in of steel stress relieved
  param height = 8 mm in 6 mm .. 10 mm
  path running mesial {
    straight 6 mm
    seat molar
    straight 4 mm
    open_loop(height = height, width = 2 mm) as loop
    straight 4 mm
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 1 mm step 0.5 mm
}
`;

beforeAll(async () => {
  command = await buildCommand();
  command.write('loop.spring', loop);
  command.write('two.spring', `${loop}variant low of closing { height = 7 mm }\n`);
  command.write('held.spring', loop.replace(/ {2}activation.*\n/, ''));
  command.write('broken.spring', loop.replace('straight 6 mm', 'straight 6 deg'));
  command.write('none.spring', 'use "alloys"\n');
});

afterAll(() => command.remove());

describe('draw', () => {
  it('writes the drawing to standard output, or to a file that then is whole', () => {
    const { code, out, err } = run('draw', 'loop.spring');
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/^<\?xml[^>]*>\n<svg[\s\S]*<\/svg>\n$/);
    expect(run('draw', 'loop.spring', '-o', 'loop.svg').code).toBe(0);
    expect(readFileSync(join(command.folder, 'loop.svg'), 'utf8')).toBe(out);
    expect(readdirSync(command.folder).filter((name) => name.endsWith('.partial'))).toEqual([]);
  });

  it('writes the other formats', () => {
    expect(run('draw', '--format', 'template', 'loop.spring').out).toMatch(/<svg [^>]*width="[\d.]+mm"/);
    expect(run('draw', '--format', 'template-pdf', 'loop.spring').out).toMatch(/^%PDF-/);
    expect(run('draw', '--format', 'dxf', 'loop.spring').out).toMatch(/^0\r?\nSECTION/);
    expect(run('draw', '--format', 'shapes', 'loop.spring').out).toMatch(/^shape,station_mm,/);
    expect(run('draw', '--format', 'curves', 'loop.spring').out.split('\r\n')).toHaveLength(5);
    const engaged = (activation: string) =>
      run('draw', '--format', 'shapes', '--activation', activation, 'loop.spring').out;
    expect(engaged('1')).not.toBe(engaged('0'));
    expect(engaged('1 mm')).toBe(engaged('1'));
  });

  it('writes pixels, with its words in them', () => {
    const size = (...args: string[]) => {
      expect(run('draw', '--format', 'png', ...args, 'loop.spring', '-o', 'loop.png').err).toBe('');
      const bytes = readFileSync(join(command.folder, 'loop.png'));
      // PNG (ISO/IEC 15948): signature, then width and height at bytes 16 and 20.
      expect(bytes.subarray(1, 4).toString()).toBe('PNG');
      return [bytes.readUInt32BE(16), bytes.readUInt32BE(20), bytes.length];
    };
    const [width, height, bytes] = size();
    expect(width).toBe(1920);
    const [half, , fewer] = size('--scale', '1');
    expect(half).toBe(960);
    expect(height).toBeGreaterThan(400);
    expect(bytes).toBeGreaterThan(fewer);
    expect(run('draw', '--format', 'png', '--scale', '0', 'loop.spring').err).toContain('Give a factor above 0');
  });

  it('says what is wrong, and how to mend it', () => {
    for (const [args, code, message] of [
      [['two.spring'], 2, 'two.spring has several appliances: closing, low. Choose one with --appliance.'],
      [['two.spring', '--appliance', 'high'], 2, 'two.spring has no appliance "high": there are closing, low.'],
      [['none.spring'], 2, 'none.spring has no appliance.'],
      [['missing.spring'], 2, 'No such file or folder: missing.spring.'],
      [['broken.spring'], 1, 'broken.spring:'],
      [['held.spring', '--format', 'curves'], 1, 'nothing is activated there'],
      [['loop.spring', '--activation', 'far'], 2, 'Give a number of millimetres'],
      [['loop.spring', '-o', 'no/such/folder/a.svg'], 2, 'cannot be written: there is no such file or folder'],
    ] as const) {
      const result = run('draw', ...args);
      expect([result.code, result.out], args.join(' ')).toEqual([code, '']);
      expect(result.err).toContain(message);
    }
    expect(run('draw', 'two.spring', '--appliance', 'low').code).toBe(0);
  });
});

describe('sheet', () => {
  it('writes a PDF for either paper, and a card', () => {
    for (const args of [[], ['--paper', 'Letter'], ['--card']]) {
      const { code, err } = run('sheet', 'loop.spring', ...args, '-o', 'sheet.pdf');
      expect([code, err]).toEqual([0, '']);
      const bytes = readFileSync(join(command.folder, 'sheet.pdf'));
      expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
      expect(bytes.subarray(-6).toString()).toContain('%%EOF');
    }
    expect(run('sheet', 'loop.spring', '--paper', 'A3').code).toBe(2);
    expect(existsSync(join(command.folder, 'sheet.pdf.partial'))).toBe(false);
  });
});

describe('the bending plan', () => {
  it('is made for the bench that is told', () => {
    const cut = (...args: string[]) =>
      /Cut ([\d.]+) mm, with ([\d.]+) mm/.exec(run('analyze', '--plan', ...args, 'loop.spring').out)!;
    const [, usual, holding] = cut();
    expect(holding).toBe('15');
    const [, short, ten] = cut('--holding', '10');
    expect(ten).toBe('10');
    expect(Number(usual) - Number(short)).toBeCloseTo(10, 1);
    expect(run('analyze', '--plan', '--beak', '7', 'loop.spring').out).toContain('less than a beak of 7 mm is wide');
    expect(run('analyze', '--plan', '--beak', '-1', 'loop.spring').err).toContain('not less than 0 mm');
  });
});
