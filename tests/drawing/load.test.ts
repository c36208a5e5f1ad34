/** Elastics, coil springs and ligatures as they are drawn: between their ends, told apart by their shape, with their force. */
import { describe, expect, it } from 'vitest';
import { drawAppliance } from '#drawing/appliance';
import { evaluateAppliance } from '#model/evaluate';
import { resolveAppliance } from '../model/resolve-text';
import { pathPoints, readXml, withClass } from './svg-reading';

const text = `use "alloys"
appliance pulled {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 4 mm
    seat molar
    straight 20 mm
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  elastic band from canine to molar force 0.5 N
  coil opener from molar to canine rate 0.2 N/mm rest 30 mm
  ligature tie from molar to canine rate 1 N/mm rest 25 mm
}
`;

const root = (show = {}) => {
  const appliance = resolveAppliance(text);
  return readXml(drawAppliance(evaluateAppliance(appliance, text), { show, units: { force: 'N' } }) as string);
};

const attachments = (svg: ReturnType<typeof root>) =>
  withClass(svg, 'attachment').map(({ attributes: { transform } }) =>
    /translate\(([\d.]+) ([\d.]+)\)/.exec(transform)!.slice(1).map(Number),
  );

describe('loads', () => {
  it('run from end to end', () => {
    const svg = root();
    const [molar, canine] = attachments(svg);
    expect(withClass(svg, 'load')).toHaveLength(3);
    for (const [kind, from, to] of [
      ['elastic', canine, molar],
      ['coil', molar, canine],
    ] as const) {
      for (const path of withClass(svg, kind).flatMap(({ children }) => children)) {
        const points = pathPoints(path);
        // The attachments stand where their slots do; canvas hundredths.
        for (const [point, place] of [
          [points[0], from],
          [points[points.length - 1], to],
        ]) {
          expect(Math.abs(point[0] - place[0])).toBeLessThan(0.02);
          expect(Math.abs(point[1] - place[1])).toBeLessThan(0.02);
        }
      }
    }
  });

  it('are told apart by their shape: a band of two strands, a coil that winds, one line', () => {
    const svg = root();
    const strands = (kind: string) => withClass(svg, kind).flatMap(({ children }) => children);
    expect(strands('elastic')).toHaveLength(2);
    expect(pathPoints(strands('coil')[0]).length).toBeGreaterThan(12);
    expect(pathPoints(strands('ligature')[0])).toHaveLength(2);
  });

  it('say what they pull or push by, or that they are slack', () => {
    const words = withClass(root(), 'load').length;
    expect(words).toBe(3);
    const all = JSON.stringify(root());
    expect(all).toContain('pulls 0.5 N');
    expect(all).toContain('pushes 2 N');
    expect(all).toContain('slack');
  });

  it('go with the forces', () => {
    expect(withClass(root({ forces: false }), 'load')).toHaveLength(0);
  });
});
