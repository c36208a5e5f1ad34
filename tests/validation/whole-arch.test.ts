/** Whole arches and tooth data against the handbook, from `.spring` text and the bundled library. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import { library } from '#library';
import { resolveFile } from '#model/resolve';
import { runSpring, stageOf } from './run-spring';

describe('tooth data', () => {
  const text = library.get('teeth') ?? '';
  const file = resolveFile('springwright-library:/teeth.spring', parse(text).tree, text, () => ({ kind: 'missing' }));
  const sum = (arch: string, teeth: readonly string[]) =>
    2 *
    teeth.reduce((total, tooth) => total + (file.exports.get(`${arch}_${tooth}_width`)?.value?.value ?? Number.NaN), 0);
  const front = ['central_incisor', 'lateral_incisor', 'canine'];
  const toMolar = [...front, 'first_premolar', 'second_premolar', 'first_molar'];

  // C59: relative tolerance 1e-4.
  it('has widths whose sums stand to each other as in handbook 7.1', () => {
    expect(sum('lower', toMolar)).toBeCloseTo(85, 9);
    expect(sum('upper', toMolar)).toBeCloseTo(93, 9);
    expect(Math.abs(sum('lower', toMolar) / sum('upper', toMolar) / 0.91398 - 1)).toBeLessThan(1e-4);
    expect(Math.abs(sum('lower', front) / sum('upper', front) / 0.77778 - 1)).toBeLessThan(1e-4);
  });

  it('says where each figure comes from', () => {
    const unsaid = [...file.exports.values()].filter(
      ({ node }) => node.kind !== 'let' || node.source?.state === undefined,
    );
    expect(unsaid.map(({ name }) => name)).toEqual([]);
  });
});

describe('transpalatal bar in the frame of the arch', () => {
  // C49: 43.13 N mm on each molar, opposite, no force; relative tolerance 1e-3.
  it('gives equal and opposite couples and no force', () => {
    const text = readFileSync(resolve(import.meta.dirname, '../../examples/09-transpalatal-bar.spring'), 'utf8');
    const { wrenches } = stageOf(runSpring(text, { compliance: 'bending-only' }), 0);
    for (const { force, moment } of wrenches) {
      expect(Math.abs(Math.abs(moment[1]) / 43.13 - 1)).toBeLessThan(1e-3);
      expect(Math.hypot(moment[0], moment[2])).toBeLessThan(1e-3 * 43.13);
      expect(Math.hypot(...force)).toBeLessThan((1e-3 * 43.13) / 50);
    }
    // The same component at mirrored teeth: opposite in one frame.
    expect(Math.sign(wrenches[0].moment[1])).toBe(Math.sign(wrenches[1].moment[1]));
  });
});
