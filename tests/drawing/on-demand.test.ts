/** What is drawn on demand: stress by its scale and its peak, sizes between their ends, steps with their place in the text. */
import { describe, expect, it } from 'vitest';
import { drawAppliance } from '#drawing/appliance';
import { evaluateAppliance } from '#model/evaluate';
import { resolveAppliance } from '../model/resolve-text';
import { pathPoints, readXml, withClass, type XmlElement } from './svg-reading';

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
  activation pull through molar 0 mm .. 1 mm step 0.5 mm
}
`;
const evaluated = evaluateAppliance(resolveAppliance(text), text);
const draw = (show = {}) => readXml(drawAppliance(evaluated, { activation: 1, show }) as string);
const state = evaluated.analysis!.stages[2].state!;

const scaleOf = (svg: XmlElement) => Number(svg.attributes['data-scale']);
const molarAt = (svg: XmlElement) =>
  /translate\(([\d.]+) ([\d.]+)\)/.exec(withClass(svg, 'attachment')[0].attributes.transform)!.slice(1).map(Number);

describe('stress', () => {
  it('is drawn when it is asked for, lighter where it is higher', () => {
    expect(withClass(draw(), 'stress')).toEqual([]);
    const colours = withClass(draw({ stress: true }), 'stress')[0]
      .children.filter(({ name }) => name === 'path')
      .map(({ attributes }) => attributes.stroke);
    // 77 % of yield at 1 mm (examples/reports/02): nothing reaches the last two of ten colours, and the ends bear none.
    expect(colours).toContain('#c3b369');
    expect(colours).not.toContain('#fee838');
    expect(colours[0]).toBe('#00224e');
  });

  it('has its peak where the analysis has it', () => {
    const svg = draw({ stress: true });
    const [{ attributes }] = withClass(svg, 'peak');
    const { stations, points } = state.outline;
    const k = stations.findIndex((station) => Math.abs(station - state.stressStation) < 1e-9);
    const [x, y] = molarAt(svg);
    // The molar's seat is the origin; canvas hundredths.
    expect(Number(attributes.cx)).toBeCloseTo(x + points[3 * k] * scaleOf(svg), 1);
    expect(Number(attributes.cy)).toBeCloseTo(y - points[3 * k + 1] * scaleOf(svg), 1);
  });
});

describe('a wire whose bends are opened against their last sense', () => {
  const formed = text.replace(' stress relieved', '').replace('open_loop', 'closed_loop');
  const yielding = evaluateAppliance(resolveAppliance(formed), formed);
  const { uses, stresses, outline, stressStation } = yielding.analysis!.stages[2].state!;

  it('yields first where most of its elastic range is used, not where the stress is largest', () => {
    const strength = yielding.appliance.design!.alloy.yield;
    const first = uses.indexOf(Math.max(...uses));
    // Else this would show nothing: there the use is more than stress over strength.
    expect(uses[first]).toBeGreaterThan(1.2 * (stresses[first] / strength));
    expect(Math.abs(outline.stations[first] - stressStation)).toBeGreaterThan(0.5);
    const svg = readXml(drawAppliance(yielding, { activation: 1, show: { stress: true } }) as string);
    const [{ attributes }] = withClass(svg, 'peak');
    const [x, y] = molarAt(svg);
    expect(Number(attributes.cx)).toBeCloseTo(x + outline.points[3 * first] * scaleOf(svg), 1);
    expect(Number(attributes.cy)).toBeCloseTo(y - outline.points[3 * first + 1] * scaleOf(svg), 1);
  });
});

describe('dimensions', () => {
  it('run from attachment to attachment, and from foot to foot', () => {
    const svg = draw({ dimensions: true });
    const [between, gap] = withClass(svg, 'dimensions')[0].children;
    const width = (path: XmlElement) => {
      const [[x0], [x1]] = pathPoints(path);
      return (x1 - x0) / scaleOf(svg);
    };
    const { attachments } = resolveAppliance(text).design!;
    expect(width(between)).toBeCloseTo(attachments[1].seatedWire.position[0], 2);
    expect(width(gap)).toBeCloseTo(state.loops[0].legGap, 2);
    const words = JSON.stringify(svg);
    const apart = `${Number(attachments[1].seatedWire.position[0].toPrecision(4))} mm`;
    for (const written of [apart, 'loop leg gap', '180 deg', 'radius 1 mm']) expect(words).toContain(written);
  });
});

describe('steps', () => {
  it('carry their place in the text', () => {
    const steps = withClass(draw(), 'step');
    const written = steps.map(({ attributes }) =>
      text.slice(Number(attributes['data-start']), Number(attributes['data-end'])),
    );
    expect(new Set(written)).toEqual(
      new Set(['straight 6 mm', 'straight 4 mm', 'open_loop(height = 8 mm, width = 2 mm) as loop']),
    );
  });
});

describe('another appliance laid over it', () => {
  const low = evaluateAppliance(
    resolveAppliance(text.replace('height = 8 mm', 'height = 6 mm').replace('closing', 'low')),
    text,
  );
  const svg = readXml(drawAppliance(evaluated, { activation: 1, over: low }) as string);

  it('is a centre line of its own engaged shape, named in the legend', () => {
    const lines = withClass(svg, 'compared');
    const drawn = pathPoints(lines[lines.length - 1]);
    const { points } = low.analysis!.stages[2].state!.outline;
    const [x, y] = molarAt(svg);
    expect(drawn).toHaveLength(points.length / 3);
    drawn.forEach(([across, down], k) => {
      expect(Math.abs(across - (x + points[3 * k] * scaleOf(svg)))).toBeLessThan(0.05);
      expect(Math.abs(down - (y - points[3 * k + 1] * scaleOf(svg)))).toBeLessThan(0.05);
    });
    expect(JSON.stringify(svg)).toContain('"low"');
  });

  it('fits on the canvas together with what it lies over', () => {
    const tall = readXml(drawAppliance(low, { activation: 1, over: evaluated }) as string);
    expect(scaleOf(tall)).toBeCloseTo(scaleOf(svg), 1);
  });
});
