/** Centres of resistance in the drawing and visits over the weeks: where they stand on the canvas. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { drawAppliance } from '#drawing/appliance';
import { drawVisitTimeline } from '#drawing/visit-timeline';
import { groupFigures } from '#model/tooth-movement';
import type { VisitPlan } from '#model/visit-plan';
import type { SnapshotAppliance } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';
import { pathPoints, readXml, withClass } from './svg-reading';

const name = '17-visits.spring';
let shown: SnapshotAppliance;

beforeAll(async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  const text = readFileSync(resolve(import.meta.dirname, '../../examples', name), 'utf8');
  workspace.open(`file:///${name}`, text, 1);
  [shown] = (await workspace.snapshot(`file:///${name}`))!.appliances;
});

describe('groups of teeth', () => {
  it('stand where their centres of resistance are, with the line of the pull and the centre of rotation', () => {
    const root = readXml(drawAppliance(shown) as string);
    const [view] = withClass(root, 'view buccal');
    const scale = Number(root.attributes['data-scale']);
    const [x0, y0] = view.attributes['data-origin'].split(' ').map(Number);
    const groups = withClass(view, 'tooth-group');
    expect(groups.length).toBe(2);
    const state = shown.analysis!.stages.at(-1)!.state!;
    for (const [k, { group, along }] of groupFigures(shown.design!, state).entries()) {
      const [x, y] = [x0 + scale * group.resistance[0], y0 - scale * group.resistance[1]];
      const [circle] = withClass(groups[k], 'resistance');
      // Coordinates are written to a hundredth of a canvas unit.
      expect(Number(circle.attributes.cx)).toBeCloseTo(x, 1);
      expect(Number(circle.attributes.cy)).toBeCloseTo(y, 1);
      const [line] = withClass(groups[k], 'pull-line');
      for (const [, height] of pathPoints(line)) expect(height).toBeCloseTo(y + scale * along!.lineOfAction!, 1);
      const pivots = withClass(groups[k], 'pivot');
      const near = Math.abs(along!.rotationCentre!) <= 3;
      expect(pivots.length).toBe(near ? 2 : 0);
      if (near) expect(Number(pivots[0].attributes.cy)).toBeCloseTo(y - scale * along!.rotationCentre!, 1);
    }
  });

  it('are left out with the forces', () => {
    const root = readXml(drawAppliance(shown, { show: { forces: false } }) as string);
    expect(withClass(root, 'tooth-group')).toEqual([]);
  });
});

describe('visits over the weeks', () => {
  it('has a mark for each visit at its week, and curves that end at the figures of the end', () => {
    const plan = shown.plan as VisitPlan;
    const charts = drawVisitTimeline(plan, { width: 500 }).map(({ svg }) => readXml(svg));
    expect(charts.length).toBe(4);
    const { visits, points } = plan.usual;
    for (const chart of charts) {
      const marks = withClass(chart, 'visit');
      expect(marks.length).toBe(visits.length);
      const places = marks.map(({ attributes }) => Number(attributes.cx)).sort((a, b) => a - b);
      const [first, last] = [places[0], places[places.length - 1]];
      for (const [k, { time }] of visits.entries()) {
        const share = time / visits[visits.length - 1].time;
        expect(places[k]).toBeCloseTo(first + share * (last - first), 1);
      }
      for (const curve of withClass(chart, 'curve')) expect(pathPoints(curve).length).toBe(points.length);
    }
    for (const svg of drawVisitTimeline(plan)) expect(svg.svg).not.toMatch(/NaN|Infinity|undefined|\sstyle=/);
  });
});
