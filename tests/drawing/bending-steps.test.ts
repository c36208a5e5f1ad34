/** The drawings of a bending plan: each has one more bend than the one before, and all are to one scale. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { drawBendingSteps } from '#drawing/bending-steps';
import { bendingPlan } from '#model/bending/bending-plan';
import { createWorkspace } from '#workspace/workspace';

type Point = [number, number];

async function planOf(text: string) {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open('file:///steps.spring', text, 1);
  const [evaluated] = (await workspace.snapshot('file:///steps.spring'))!.appliances;
  return bendingPlan(evaluated)!;
}

const points = (svg: string): Point[] =>
  [...svg.match(/ d="([^"]*)"/)![1].matchAll(/[ML](\S+?) ([\d.-]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);

const length = (line: Point[]): number =>
  line.slice(1).reduce((sum, [x, y], k) => sum + Math.hypot(x - line[k][0], y - line[k][1]), 0);

/** Total turning of a polyline, either way, rad. */
function turning(line: Point[]): number {
  const headings = line.slice(1).map(([x, y], k) => Math.atan2(y - line[k][1], x - line[k][0]));
  return headings
    .slice(1)
    .reduce(
      (sum, heading, k) => sum + Math.abs(Math.atan2(Math.sin(heading - headings[k]), Math.cos(heading - headings[k]))),
      0,
    );
}

describe('the T loop, which lies in one plane', async () => {
  const text = readFileSync(resolve(import.meta.dirname, '../../examples/03-t-loop.spring'), 'utf8');
  const plan = await planOf(text);
  const steps = drawBendingSteps(plan);

  it('is drawn once for each bend, in the order of work', () => {
    expect(steps.map(({ bend }) => bend)).toEqual(plan.order.flatMap(({ bends }) => bends));
  });

  it('turns by one bend more from step to step', () => {
    let made = 0;
    for (const { bend, svg } of steps) {
      made += Math.abs(plan.bends[bend].angle);
      // Coordinates stand to a hundredth of a unit: 0.005 at each of the ends of the shortest chord of about a third of a unit.
      expect(Math.abs(turning(points(svg)) - made)).toBeLessThan(0.05 * steps.length);
    }
  });

  it('keeps its length: all steps are to one scale', () => {
    const lengths = steps.map(({ svg }) => length(points(svg)));
    // Chords of a twenty-fourth of half a turn are shorter than their arcs by 0.07 %.
    for (const one of lengths) expect(Math.abs(one / lengths[0] - 1)).toBeLessThan(2e-3);
  });

  it('rings the bend just made, which lies on the wire', () => {
    for (const { svg } of steps) {
      const [, x, y] = svg.match(/cx="([\d.]+)" cy="([\d.]+)"/)!.map(Number);
      const nearest = Math.min(...points(svg).map(([px, py]) => Math.hypot(px - x, py - y)));
      expect(nearest).toBeLessThan(1);
    }
  });
});
