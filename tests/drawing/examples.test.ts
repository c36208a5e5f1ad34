/** The examples as they are drawn: real shapes and forces instead of made-up ones. */
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { drawAppliance } from '#drawing/appliance';
import { createWorkspace } from '#workspace/workspace';
import { labelBoxes } from './label-boxes';
import { pathPoints, readXml, withClass } from './svg-reading';

const folder = resolve(import.meta.dirname, '../../examples');
const files = readdirSync(folder).filter((name) => name.endsWith('.spring'));
const workspace = createWorkspace({ readFile: async () => undefined });

async function appliances(name: string) {
  const uri = `file:///examples/${name}`;
  workspace.open(uri, readFileSync(resolve(folder, name), 'utf8'), 1);
  const snapshot = await workspace.snapshot(uri);
  expect(snapshot?.appliances.length).toBeGreaterThan(0);
  return snapshot!.appliances;
}

describe('examples', () => {
  it('are there', () => {
    expect(files.length).toBeGreaterThan(5);
  });

  it.each(files)('%s keeps its labels apart on canvases of every width', async (name) => {
    for (const appliance of await appliances(name)) {
      for (const width of [300, 420, 500, 640, 800, 1400]) {
        for (const { activation } of appliance.analysis!.stages) {
          const root = readXml(drawAppliance(appliance, { activation, width }) as string);
          const { covered, outside } = labelBoxes(root);
          expect(covered, `${activation} mm, ${width} wide`).toEqual([]);
          expect(outside, `${activation} mm, ${width} wide`).toEqual([]);
        }
      }
    }
  });

  it.each(files)('%s keeps the labels of its sizes apart, on the narrowest canvas of the preview too', async (name) => {
    for (const appliance of await appliances(name)) {
      for (const width of [720, 960, 1080]) {
        for (const { activation } of appliance.analysis!.stages) {
          const svg = drawAppliance(appliance, { activation, width, show: { dimensions: true } }) as string;
          const { covered, outside } = labelBoxes(readXml(svg));
          expect(covered, `${activation} mm, ${width} wide`).toEqual([]);
          expect(outside, `${activation} mm, ${width} wide`).toEqual([]);
        }
      }
    }
  });

  it.each(files)('%s is drawn to scale, finite and readable at every stage', async (name) => {
    for (const appliance of await appliances(name)) {
      const { analysis } = appliance;
      expect(analysis, appliance.appliance.name).toBeDefined();
      for (const { activation, state } of analysis!.stages) {
        expect(state, `${appliance.appliance.name} at ${activation} mm`).toBeDefined();
        const svg = drawAppliance(appliance, { activation, show: { nominal: true, passive: true } }) as string;
        expect(svg).not.toMatch(/NaN|Infinity|undefined|\sstyle=/);
        const root = readXml(svg);
        const { covered, outside } = labelBoxes(root);
        expect(covered, `${activation} mm`).toEqual([]);
        expect(outside, `${activation} mm`).toEqual([]);

        // The drawn wire spans what the computed one does.
        const { points } = state!.outline;
        const xs = points.filter((_, index) => index % 3 === 0);
        const main = appliance.appliance.site.kind === 'arch' ? 'view occlusal' : 'view buccal';
        const [wire] = withClass(withClass(root, main)[0], 'wire engaged');
        const drawn = pathPoints(wire.children[0]).map(([x]) => x);
        const span = (values: readonly number[]) => Math.max(...values) - Math.min(...values);
        // Coordinates are written to a hundredth of a canvas unit.
        expect(Math.abs(span(drawn) - span(xs) * Number(root.attributes['data-scale']))).toBeLessThan(0.011);
      }
    }
  });
});
