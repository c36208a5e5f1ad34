/** Handles by their coordinates: each on what it sets, and moving as far as the wire does where the parameter changes. */
import { describe, expect, it } from 'vitest';
import { drawAppliance } from '#drawing/appliance';
import { evaluateAppliance } from '#model/evaluate';
import { parameterSizes } from '#model/parameter-sizes';
import { resolveAppliance } from '../model/resolve-text';
import { readXml, withClass, type XmlElement } from './svg-reading';

const text = `use "alloys"
appliance sized {
  wire 0.016 in x 0.022 in of steel
  param arm = 12 mm
  param rise = 20 deg
  param turn = 15 deg
  param bow = 3 mm
  path running mesial {
    straight 4 mm
    seat molar
    straight 6 mm
    preactivate rise toward gingival radius 0 mm
    straight arm
    preactivate turn toward buccal radius 0 mm
    bend 60 deg toward gingival radius bow
    bend 60 deg toward occlusal radius 1 mm
    straight 4 mm
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
}
`;
/** As it is meant to lie, so that every place is known from the text alone. */
const nominal = { nominal: true, engaged: false, neutral: false, passive: false, forces: false };

function draw(source = text, second = false): XmlElement {
  const evaluated = evaluateAppliance(resolveAppliance(source), source);
  const handles = parameterSizes(evaluated.appliance);
  return readXml(drawAppliance(evaluated, { show: nominal, handles, mainOnly: !second }) as string);
}

const scaleOf = (svg: XmlElement) => Number(svg.attributes['data-scale']);
const originOf = (svg: XmlElement, view = 'buccal') =>
  numbers(withClass(svg, `view ${view}`)[0].attributes['data-origin']);
const handleOf = (svg: XmlElement, name: string) =>
  withClass(svg, 'handle').find(({ attributes }) => attributes['data-parameter'] === name)!.attributes;
const numbers = (words: string) => words.split(' ').map(Number);
/** mm from the molar's seat, mesial and gingival, in an upper right quadrant. */
const millimetres = (svg: XmlElement, [x, y]: readonly number[]) => {
  const [x0, y0] = originOf(svg);
  return [(x - x0) / scaleOf(svg), (y0 - y) / scaleOf(svg)];
};
/** Canvas hundredths at more than 10 units per mm. */
const near = ([a, b]: readonly number[], [c, d]: readonly number[]) => {
  expect(a).toBeCloseTo(c, 2);
  expect(b).toBeCloseTo(d, 2);
};

describe('of a length', () => {
  it('stands at the end of its piece that is away from the first seat, and moves along it', () => {
    const svg = draw();
    const handle = handleOf(svg, 'arm');
    // 6 mm and 12 mm from the seat; a preactivation bends nothing of the nominal shape.
    near(millimetres(svg, numbers(handle['data-at'])), [18, 0]);
    near(
      numbers(handle['data-along']).map((part) => part / scaleOf(svg)),
      [1, 0],
    );
  });

  it('moves as the wire does where the parameter changes', () => {
    const before = draw();
    const after = draw(text.replace('arm = 12 mm', 'arm = 12.5 mm'));
    const place = (svg: XmlElement) => millimetres(svg, numbers(handleOf(svg, 'arm')['data-at']));
    const [right] = numbers(handleOf(before, 'arm')['data-along']);
    near([place(after)[0] - place(before)[0], place(after)[1]], [(0.5 * right) / scaleOf(before), 0]);
  });

  it('before the first seat stands at the far end and moves away from the seat', () => {
    const source = text.replace('    straight 4 mm\n    seat molar', '    straight tail\n    seat molar');
    const svg = draw(source.replace('  param arm', '  param tail = 5 mm\n  param arm'));
    const handle = handleOf(svg, 'tail');
    near(millimetres(svg, numbers(handle['data-at'])), [-5, 0]);
    near(
      numbers(handle['data-along']).map((part) => part / scaleOf(svg)),
      [-1, 0],
    );
  });
});

describe('of a radius', () => {
  it('stands in the middle of the bend and moves away from its centre', () => {
    const svg = draw();
    const handle = handleOf(svg, 'bow');
    // The bend starts at 18 mm with its centre 3 mm gingival of it; half of it turns by 30 deg.
    const half = Math.PI / 6;
    near(millimetres(svg, numbers(handle['data-at'])), [18 + 3 * Math.sin(half), 3 - 3 * Math.cos(half)]);
    const [right, down] = numbers(handle['data-along']).map((part) => part / scaleOf(svg));
    near([right, -down], [Math.sin(half), -Math.cos(half)]);
  });
});

describe('of an angle', () => {
  const polar = (attributes: XmlElement['attributes']) => {
    const [[x, y], [cx, cy]] = [numbers(attributes['data-at']), numbers(attributes['data-about'])];
    return { angle: (Math.atan2(cy - y, x - cx) * 180) / Math.PI, distance: Math.hypot(x - cx, y - cy) };
  };

  it('stands on the ray that leaves the bend by the angle, and turns about the bend', () => {
    const svg = draw();
    const handle = handleOf(svg, 'rise');
    near(millimetres(svg, numbers(handle['data-about'])), [6, 0]);
    expect(polar(handle).angle).toBeCloseTo(20, 1);
    // Gingival is up: the other way round than canvas angles, which run clockwise.
    expect(Number(handle['data-turn'])).toBeCloseTo(-1, 6);
  });

  it('turns as far as the parameter grows, the other way round in a mirrored view', () => {
    const [to35, lower] = [
      draw(text.replace('rise = 20 deg', 'rise = 35 deg')),
      draw(text.replace('appliance sized', 'appliance sized on upper left')),
    ].map((svg) => handleOf(svg, 'rise'));
    expect(polar(to35).angle).toBeCloseTo(35, 1);
    // The patient's left is seen with mesial to the left: out of 180 deg, gingival still up.
    expect(polar(lower).angle).toBeCloseTo(180 - 20, 1);
    expect(Number(lower['data-turn'])).toBeCloseTo(1, 6);
  });

  it('of nought is there to be taken out of it', () => {
    const handle = handleOf(draw(text.replace('rise = 20 deg', 'rise = 0 deg')), 'rise');
    expect(polar(handle).angle).toBeCloseTo(0, 1);
    expect(Number(handle['data-turn'])).toBeCloseTo(-1, 6);
  });

  it('is drawn in the view that shows it', () => {
    const names = (svg: XmlElement, view: string) =>
      withClass(withClass(svg, `view ${view}`)[0], 'handle').map(({ attributes }) => attributes['data-parameter']);
    expect(names(draw(), 'buccal')).toEqual(['arm', 'rise', 'bow']);
    const both = draw(text, true);
    expect(names(both, 'buccal')).toEqual(['arm', 'rise', 'bow']);
    expect(names(both, 'occlusal')).toEqual(['turn']);
  });
});

it('there are none where none are asked for', () => {
  const evaluated = evaluateAppliance(resolveAppliance(text), text);
  expect(withClass(readXml(drawAppliance(evaluated) as string), 'handle')).toEqual([]);
});

it('they keep clear of each other', () => {
  // Both bends at one place: their rays would end in each other.
  const source = text
    .replace('    straight arm\n', '')
    .replace('turn toward buccal', 'turn toward gingival')
    .replace('turn = 15', 'turn = 18');
  const svg = draw(source.replace('  param arm = 12 mm\n', ''));
  const places = withClass(svg, 'handle').map(({ attributes }) => numbers(attributes['data-at']));
  expect(places).toHaveLength(3);
  for (const [k, a] of places.entries()) {
    for (const b of places.slice(k + 1)) expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeGreaterThan(20);
  }
});
