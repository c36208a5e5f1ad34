import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ApplianceAnalysis, EngagedState } from '#core/analysis/analysis';
import { gapText, legsText, limits, readingAt, upTo } from '#sheet/chairside-readings';
import { plain } from '#sheet/type';
import { createWorkspace } from '#workspace/workspace';

const deg = Math.PI / 180;
const state = (activation: number, legGap: number, legAngle: number) =>
  ({ activation, loops: [{ legGap, legAngle }] }) as unknown as EngagedState;

describe('a reading', () => {
  const states = [state(0, -3, -0.2), state(1, -1, 0.2)];

  it('lies between the stages as the straight line from one to the next, and nowhere else', () => {
    expect(readingAt(states, 0.25)!.loops[0].legGap).toBeCloseTo(-2.5, 12);
    expect(readingAt(states, 0.5)!.loops[0].legAngle).toBeCloseTo(0, 12);
    expect(readingAt(states, 1)!.loops[0]).toEqual({ legGap: -1, legAngle: 0.2 });
    expect(readingAt(states, 1.01)).toBeUndefined();
    expect(readingAt(states, -0.01)).toBeUndefined();
  });

  it('is told as a gauge shows it', () => {
    expect(gapText(-4.826)).toBe('4.8 mm, crossed');
    expect(gapText(0.04)).toBe('closed');
    expect(gapText(0.05)).toBe('0.1 mm');
    expect(legsText(-24.41 * deg)).toBe('24 deg apart');
    expect(legsText(0.4 * deg)).toBe('parallel');
    expect(legsText(3 * deg)).toBe('3 deg together');
  });

  it('never rounds a limit upward', () => {
    expect(upTo(2.099)).toBe('2 mm');
    expect(upTo(2.1)).toBe('2.1 mm');
    expect(upTo(0.05)).toBe('0 mm');
  });
});

describe('limits', () => {
  let analysis: ApplianceAnalysis;
  let told: readonly string[];
  beforeAll(async () => {
    const text = readFileSync(resolve(import.meta.dirname, '../../examples/03-t-loop.spring'), 'utf8');
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open('file:///a.spring', text, 1);
    const [{ appliance, analysis: found }] = (await workspace.snapshot('file:///a.spring'))!.appliances;
    analysis = found!;
    told = limits(analysis, appliance.design!);
  });

  it('are those of the analysis, with the reading that is to be seen there', () => {
    const { parallelLegs, firstYield, stages } = analysis;
    const states = stages.flatMap((stage) => stage.state ?? []);
    expect(parallelLegs[0] ?? firstYield).toBeDefined();
    if (parallelLegs[0] !== undefined) {
      const { legGap } = readingAt(states, parallelLegs[0])!.loops[0];
      const line = told.find((one) => one.includes('parallel at'))!;
      expect(line).toContain(`parallel at ${upTo(parallelLegs[0])}`);
      expect(line).toContain(`leg gap ${gapText(legGap)}, legs parallel`);
    }
    if (firstYield) expect(told.join(' ')).toContain(`begins to yield at ${upTo(firstYield)}`);
    expect(told.at(-1)).toBe(`Nothing is computed beyond ${states.at(-1)!.activation} mm.`);
  });
});

it('spells what the type of the sheets has not', () => {
  expect(plain('E I \u03b8 / S \u2264 2 \u00b0')).toBe('E I theta / S <= 2 \u00b0');
  expect(plain('\u0394 \u2300 3 \u2192 \u017e\u00e9')).toBe('Delta dia.  3 -> z\u00e9');
  expect(plain('\u4e2d')).toBe('?');
});
