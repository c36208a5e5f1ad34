/** Charts read back: lines, limits and cursor stand where the figures say, by the ticks beside them. */
import { describe, expect, it } from 'vitest';
import { drawActivationCharts } from '#drawing/activation-charts';
import { activationCurves } from '#model/activation-curves';
import { evaluateAppliance } from '#model/evaluate';
import { resolveAppliance } from '../model/resolve-text';
import { readXml, withClass, type XmlElement } from './svg-reading';

const text = `use "alloys"
use "loops"
appliance closing {
  wire 0.016 in x 0.022 in of steel stress relieved
  path running mesial {
    straight 6 mm
    seat molar
    straight 4 mm
    open_loop(height = 8 mm, width = 2 mm) as loop
    straight 4 mm
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 1 mm step 0.25 mm
  require at activation 0.5 mm { canine.force.distal in 1 N .. 2 N }
  require along activation { wire.elastic_use <= 0.9 }
  require at activation 1 mm { canine.force.gingival <= 0.1 N }
}
`;

const evaluated = evaluateAppliance(resolveAppliance(text), text);
const curves = activationCurves(evaluated, text)!;
const charts = new Map(
  drawActivationCharts(curves, { activation: 0.75, units: { force: 'N' } }).map(({ title, svg }) => [
    title,
    readXml(svg),
  ]),
);

/** Value and activation at a canvas place, from the ticks' own labels and places. */
function scales(chart: XmlElement) {
  const texts = withClass(chart, 'tick').map(({ children: [mark, label] }) => ({
    d: mark.attributes.d,
    label: Number(label.text),
    x: Number(label.attributes.x),
    y: Number(label.attributes.y) - 4,
  }));
  const [rows, columns] = [texts.filter(({ d }) => d.includes('H')), texts.filter(({ d }) => d.includes('v'))];
  const linear = (from: { at: number; value: number }, to: { at: number; value: number }) => (at: number) =>
    from.value + ((at - from.at) / (to.at - from.at)) * (to.value - from.value);
  const ends = (list: typeof texts, axis: 'x' | 'y') =>
    [list[0], list[list.length - 1]].map((one) => ({ at: one[axis], value: one.label }));
  const [y0, y1] = ends(rows, 'y');
  const [x0, x1] = ends(columns, 'x');
  return { value: linear(y0, y1), activation: linear(x0, x1) };
}

/** First and last point of a path. */
function endsOf({ attributes: { d } }: XmlElement) {
  const numbers = d.match(/-?[\d.]+/g)!.map(Number);
  return [numbers.slice(0, 2), numbers.slice(-2)];
}

describe('charts over the activation', () => {
  it('are of force, moment, their ratio, leg gap and elastic use', () => {
    expect([...charts.keys()]).toEqual(['Force', 'Moment', 'Moment to force', 'Leg gap', 'Elastic use']);
  });

  it('draw each line from its first figure to its last', () => {
    const chart = charts.get('Force')!;
    const { value, activation } = scales(chart);
    const [molar, canine, asked] = withClass(chart, 'curve');
    for (const [line, component, k] of [
      [molar, 0, 0],
      [canine, 0, 1],
      [asked, 1, 1],
    ] as const) {
      const [first, last] = endsOf(line);
      const forces = evaluated.analysis!.stages.map(({ state }) => state!.wrenches[k].force[component]);
      // Signs: molar mesial, canine distal and gingival, as the names beside the lines say. A hundredth of a pixel is 1e-4 N here.
      const sign = component === 0 && k === 1 ? -1 : 1;
      expect(value(first[1])).toBeCloseTo(sign * forces[0], 2);
      expect(value(last[1])).toBeCloseTo(sign * forces[forces.length - 1], 2);
      expect(activation(first[0])).toBeCloseTo(0, 2);
      expect(activation(last[0])).toBeCloseTo(1, 2);
    }
    const names = withClass(chart, 'name').map((one) => one.text);
    expect(names).toEqual(['molar mesial', 'canine distal', 'canine gingival']);
  });

  it('shade what is required: a bar at one activation, a region along all', () => {
    const force = charts.get('Force')!;
    const { value, activation } = scales(force);
    const [asked] = withClass(force, 'limit');
    const { x, y, width, height } = asked.children[1].attributes;
    expect(value(Number(y))).toBeCloseTo(2, 2);
    expect(value(Number(y) + Number(height))).toBeCloseTo(1, 2);
    expect(activation(Number(x) + Number(width) / 2)).toBeCloseTo(0.5, 2);

    const use = charts.get('Elastic use')!;
    const [along] = withClass(use, 'limit');
    const box = along.children[1].attributes;
    const scale = scales(use);
    expect(scale.value(Number(box.y))).toBeCloseTo(0.9, 2);
    expect(scale.activation(Number(box.x))).toBeCloseTo(0, 2);
    expect(scale.activation(Number(box.x) + Number(box.width))).toBeCloseTo(1, 2);
  });

  it('share one cursor', () => {
    const places = [...charts.values()].map((chart) => {
      const [[x]] = endsOf(withClass(chart, 'cursor')[0]);
      expect(scales(chart).activation(x)).toBeCloseTo(0.75, 2);
      return x;
    });
    expect(new Set(places).size).toBe(1);
  });

  it('show what friction leaves open', () => {
    const rubbing = text
      .replace(
        'bracket canine width 3 mm',
        'bracket canine width 3 mm\n  bracket premolar width 3 mm, moved 0.2 mm gingival, sliding, friction 0.2',
      )
      .replace(
        '    straight 4 mm\n    seat canine',
        '    straight 4 mm\n    seat premolar\n    straight 7 mm\n    seat canine',
      )
      .replace('pull through molar', 'move canine mesial');
    const rubbed = evaluateAppliance(resolveAppliance(rubbing), rubbing);
    const drawn = drawActivationCharts(activationCurves(rubbed, rubbing)!);
    expect(drawn.find(({ title }) => title === 'Force')!.svg).toContain('class="friction"');
    expect(drawn.find(({ title }) => title === 'Leg gap')!.svg).not.toContain('class="friction"');
  });

  it('are none where nothing is activated', () => {
    const held = text.replace(/ {2}activation.*\n/, '').replace(/ {2}require.*\n/g, '');
    expect(activationCurves(evaluateAppliance(resolveAppliance(held), held), held)).toBeUndefined();
  });
});
