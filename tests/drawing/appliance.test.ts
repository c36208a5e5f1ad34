import { describe, expect, it } from 'vitest';
import type { Vec3 } from '#core/math/vector';
import { drawAppliance } from '#drawing/appliance';
import { drawingCss } from '#drawing/drawing.css';
import type { DrawableAppliance, DrawingOptions } from '#drawing/scene';
import { onPaper, standaloneDrawing } from '#drawing/standalone';
import { labelBoxes } from './label-boxes';
import { all, pathPoints, readXml, withClass, type XmlElement } from './svg-reading';
import { closedLoop, closingSpring, engaged, outlineOf } from './synthetic';

function drawn(drawable: DrawableAppliance, options?: DrawingOptions): XmlElement {
  const svg = drawAppliance(drawable, options);
  expect(svg).toBeDefined();
  return readXml(svg as string);
}

function view(root: XmlElement, name: string): XmlElement {
  const [found] = withClass(root, `view ${name}`);
  expect(found, `view ${name}`).toBeDefined();
  return found;
}

/** The whole wire of a shape, drawn before its overpasses. */
function wholeWire(root: XmlElement, name: string, shape: string): XmlElement {
  return withClass(view(root, name), `wire ${shape}`)[0].children[0];
}

const scaleOf = (root: XmlElement) => Number(root.attributes['data-scale']);

// Coordinates are written to a hundredth of a canvas unit: 0.005 each, 0.01 for a difference of two.
const writing = 0.011;

describe('the outline', () => {
  const root = drawn(closingSpring(), { activation: 1.5 });
  const scale = scaleOf(root);

  it('is to scale from the cheek: mesial to the right, gingival up', () => {
    const points = pathPoints(wholeWire(root, 'buccal', 'engaged'));
    const first = points[0];
    const last = points[points.length - 1];
    expect(last[0] - first[0]).toBeCloseTo(33 * scale, 1);
    expect(Math.abs(last[1] - first[1])).toBeLessThan(writing);
    const highest = Math.min(...points.map(([, y]) => y));
    expect(Math.abs(first[1] - highest - 9 * scale)).toBeLessThan(writing);
  });

  it('is to the same scale and in line from the biting side: buccal up', () => {
    const cheek = pathPoints(wholeWire(root, 'buccal', 'engaged'));
    const biting = pathPoints(wholeWire(root, 'occlusal', 'engaged'));
    expect(biting[0][0]).toBeCloseTo(cheek[0][0], 2);
    const last = biting[biting.length - 1];
    expect(Math.abs(biting[0][1] - last[1] - 0.64 * scale)).toBeLessThan(writing);
  });

  it('has the true thickness: height from the cheek, width from the biting side', () => {
    expect(Number(wholeWire(root, 'buccal', 'engaged').attributes['stroke-width'])).toBeCloseTo(0.4318 * scale, 1);
    expect(Number(wholeWire(root, 'occlusal', 'engaged').attributes['stroke-width'])).toBeCloseTo(0.635 * scale, 1);
  });

  it('keeps scale and place while the activation changes', () => {
    const places = [0, 1, 3].map((activation) => {
      const one = drawn(closingSpring(), { activation });
      return [one.attributes.viewBox, scaleOf(one), pathPoints(wholeWire(one, 'buccal', 'neutral'))];
    });
    expect(places[1]).toEqual(places[0]);
    expect(places[2]).toEqual(places[0]);
  });

  it('has a scale bar of 5 mm in each view', () => {
    const bars = withClass(root, 'scale-bar');
    expect(bars).toHaveLength(2);
    for (const bar of bars) {
      const [left, , from, to] = pathPoints(bar.children[0]);
      expect(to[0] - from[0]).toBeCloseTo(5 * scale, 1);
      expect(left[0]).toBe(from[0]);
    }
  });

  it('puts each slot where its attachment stands, as long as it is', () => {
    const [tube] = withClass(view(root, 'buccal'), 'attachment tube');
    const [x] = tube.attributes.transform.match(/-?[\d.]+/g)!.map(Number);
    const start = pathPoints(wholeWire(root, 'buccal', 'engaged'))[0][0];
    expect(Math.abs(x - start - 8 * scale)).toBeLessThan(writing);
    expect(Number(tube.children[0].attributes.width)).toBeCloseTo(4 * scale, 1);
  });

  it('moves an attachment with the activation that moves it', () => {
    const spring = closingSpring();
    const design = {
      ...spring.design!,
      activation: { motion: { kind: 'move', attachment: 1, direction: [-1, 0, 0] } as const, stages: [] },
    };
    const at = (activation: number) => {
      const one = drawn({ ...spring, design }, { activation });
      const [bracket] = withClass(view(one, 'buccal'), 'attachment bracket');
      return Number(bracket.attributes.transform.match(/-?[\d.]+/)![0]) / scaleOf(one);
    };
    expect(at(0.5) - at(3)).toBeCloseTo(2.5, 2);
  });

  it('tells four shapes apart by more than colour', () => {
    const full = drawn(closingSpring(), { show: { nominal: true, passive: true } });
    const shapes = withClass(view(full, 'buccal'), 'wire').map(({ attributes }) => attributes.class);
    expect(shapes).toEqual(['wire neutral', 'wire engaged', 'wire passive', 'wire nominal']);
    expect(withClass(full, 'core').length).toBeGreaterThan(0);
    expect(drawingCss).toMatch(/\.passive \{[^}]*stroke-dasharray: 8 5/);
    expect(drawingCss).toMatch(/\.nominal \{[^}]*stroke-dasharray: 0\.5 4\.5/);
  });

  it('shows the second view only where something leaves the plane of the first', () => {
    const spring = closingSpring();
    const flat = closedLoop(-8, 25, 9, 3, 0);
    const planar = engaged(
      1,
      [
        { force: [1, 0, 0], moment: [0, 0, -5] },
        { force: [-1, 0, 0], moment: [0, 0, 5] },
      ],
      flat,
    );
    const analysis = {
      ...spring.analysis!,
      nominal: outlineOf(flat),
      passive: outlineOf(flat),
      neutral: planar,
      stages: [{ activation: 1, state: planar, failure: undefined }],
    };
    expect(withClass(drawn({ ...spring, analysis }), 'view')).toHaveLength(1);
  });
});

describe('crossing legs', () => {
  const overs = (shape: readonly Vec3[]) => {
    const spring = closingSpring();
    const state = engaged(1, spring.analysis!.stages[2].state!.wrenches, shape);
    const analysis = { ...spring.analysis!, neutral: state, stages: [{ activation: 1, state, failure: undefined }] };
    const root = drawn({ ...spring, analysis });
    const [wire] = withClass(view(root, 'buccal'), 'wire engaged');
    const [whole, ...over] = wire.children;
    return { scale: scaleOf(root), whole, over, first: pathPoints(whole)[0] };
  };

  it('draws the nearer leg again over the whole wire, on ground of its own', () => {
    const { whole, over } = overs(closedLoop(-8, 25, 9, 3, 0.64));
    expect(whole.attributes.class).toBe('body');
    expect(over.length).toBeGreaterThan(0);
    for (const piece of over) {
      expect(piece.attributes.class).toBe('over');
      expect(piece.children.map(({ attributes }) => attributes.class)).toEqual(['casing', 'body']);
      const [casing, body] = piece.children.map(({ attributes }) => Number(attributes['stroke-width']));
      expect(casing).toBeCloseTo(body + 4, 6);
    }
  });

  it('lets that leg pass over which is nearer the cheek', () => {
    // A level piece and an upright one cross at x = 8, y = 0.
    const crossing = (depth: number): Vec3[] => [
      [-8, 0, 0],
      [14, 0, 0],
      [14, 8, 0.3 * depth],
      [8, 8, 0.6 * depth],
      [8, -5, depth],
      [25, -5, depth],
    ];
    const piece = (depth: number) => {
      const { scale, first, over } = overs(crossing(depth));
      expect(over).toHaveLength(1);
      const points = pathPoints(over[0].children[0]).map(([x, y]) => [
        (x - first[0]) / scale - 8,
        (first[1] - y) / scale,
      ]);
      const [xs, ys] = [0, 1].map((axis) => points.map((point) => point[axis]));
      return { x: [Math.min(...xs), Math.max(...xs)], y: [Math.min(...ys), Math.max(...ys)] };
    };
    const upright = piece(1);
    expect(upright.x[0]).toBeCloseTo(8, 2);
    expect(upright.x[1]).toBeCloseTo(8, 2);
    expect(upright.y[0]).toBeLessThan(-0.4318 / 2);
    expect(upright.y[1]).toBeGreaterThan(0.4318 / 2);
    const level = piece(-1);
    expect(level.y[0]).toBeCloseTo(0, 2);
    expect(level.y[1]).toBeCloseTo(0, 2);
    expect(level.x[0]).toBeLessThan(8 - 0.4318 / 2);
    expect(level.x[1]).toBeGreaterThan(8 + 0.4318 / 2);
  });
});

describe('forces and moments', () => {
  /** Tip minus start of the arrow of a force, in canvas units. */
  const arrow = (root: XmlElement, name: string, viewName = 'buccal'): readonly [number, number] => {
    const [shaft, head] = withClass(view(root, viewName), `force ${name}`)[0].children;
    const start = pathPoints(shaft)[0];
    const tip = pathPoints(head)[0];
    return [tip[0] - start[0], tip[1] - start[1]];
  };
  const length = (root: XmlElement, name: string) => Math.hypot(...arrow(root, name));

  it('point the way they act', () => {
    const root = drawn(closingSpring(), { activation: 3 });
    expect(arrow(root, 'distal')[0]).toBeLessThan(0);
    expect(arrow(root, 'mesial')[0]).toBeGreaterThan(0);
    // The front tooth is intruded (gingival is up), the molar extruded.
    expect(arrow(root, 'gingival')[1]).toBeLessThan(0);
    expect(arrow(root, 'occlusal')[1]).toBeGreaterThan(0);
    expect(arrow(root, 'buccal', 'occlusal')[1]).toBeLessThan(0);
  });

  it('are as long as they are strong, between components and between stages', () => {
    const whole = drawn(closingSpring(), { activation: 3 });
    const half = drawn(closingSpring(), { activation: 1.5 });
    expect(length(whole, 'distal') / length(whole, 'gingival')).toBeCloseTo(1.22 / 0.37, 1);
    expect(length(whole, 'distal') / length(half, 'distal')).toBeCloseTo(2, 2);
  });

  it('turn the way they act, through angles in proportion', () => {
    const sweep = (name: string) => {
      const root = drawn(closingSpring(), { activation: 3 });
      const [shaft, head] = withClass(view(root, 'buccal'), `moment ${name}`)[0].children;
      const numbers = shaft.attributes.d.match(/-?[\d.]+/g)!.map(Number);
      const [x0, y0, radius, , , , turn] = numbers;
      const tip = pathPoints(head)[0];
      const chord = Math.hypot(tip[0] - x0, tip[1] - y0);
      return { angle: 2 * Math.asin(chord / 2 / radius), clockwise: turn === 1 };
    };
    // With the crown at the bottom and mesial to the right, crown-mesial turns anticlockwise.
    expect(sweep('crown_mesial').clockwise).toBe(false);
    expect(sweep('crown_distal').clockwise).toBe(true);
    expect(sweep('crown_distal').angle / sweep('crown_mesial').angle).toBeCloseTo(11.6 / 8.3, 2);
  });

  it('carry numbers in the chosen unit and words', () => {
    const words = (options: DrawingOptions) =>
      withClass(drawn(closingSpring(), options), 'labels')
        .flatMap(all)
        .map(({ text }) => text);
    expect(words({ activation: 3, units: { force: 'N' } })).toEqual(
      expect.arrayContaining(['1.22 N', 'pulls distally', 'intrudes', '8.3 N mm', 'tips the crown mesially']),
    );
    expect(words({ activation: 3 })).toEqual(expect.arrayContaining(['124 gf', 'turns the mesial side out']));
  });

  it('disappear when asked', () => {
    const root = drawn(closingSpring(), { show: { forces: false } });
    expect(withClass(root, 'force')).toHaveLength(0);
    expect(withClass(root, 'moment')).toHaveLength(0);
  });
});

describe('labels', () => {
  it.each(
    [0, 0.5, 1, 1.5, 2, 2.5, 3].flatMap((activation) => (['gf', 'N'] as const).map((force) => ({ activation, force }))),
  )('keep clear of each other and of the edge at $activation mm in $force', ({ activation, force }) => {
    const root = drawn(closingSpring(), { activation, units: { force } });
    const { boxes, covered, outside } = labelBoxes(root);
    expect(boxes.length).toBeGreaterThan(6);
    expect(covered).toEqual([]);
    expect(outside).toEqual([]);
  });
});

describe('the markup', () => {
  const options: DrawingOptions = { show: { nominal: true, passive: true } };

  it('holds what a strict content security policy lets through, and only finite numbers', () => {
    const svg = drawAppliance(closingSpring(), options) as string;
    expect(svg).not.toMatch(/\sstyle=|<style|<script|\son[a-z]+=|NaN|Infinity|undefined/);
    expect(svg).not.toMatch(/#[0-9a-f]{3,6}\b|rgb\(/i);
  });

  it('has a title and a description that a screen reader reads', () => {
    const root = drawn(closingSpring(), { activation: 3 });
    const [title, description] = root.children;
    expect(root.attributes.role).toBe('img');
    expect(root.attributes['aria-labelledby']).toBe(`${title.attributes.id} ${description.attributes.id}`);
    expect(title.text).toBe('closing_section: outline to scale at 3 mm of activation');
    expect(description.text).toContain('canine: 124 gf pulls distally');
  });

  it('escapes names', () => {
    const spring = closingSpring();
    const root = drawn({ ...spring, appliance: { ...spring.appliance, name: 'a<b & "c"' } });
    expect(root.children[0].text).toContain('a<b & "c"');
  });

  it('has a size on paper: a whole number of times its own', () => {
    const svg = drawAppliance(closingSpring()) as string;
    const root = readXml(
      onPaper(standaloneDrawing(svg))
        .replace(/^<\?xml.*\?>\n/, '')
        .trim(),
    );
    const [, , width, height] = root.attributes.viewBox.split(' ').map(Number);
    const scale = Number(root.attributes['data-scale']);
    const [across, down] = [root.attributes.width, root.attributes.height].map((size) =>
      Number(size.replace(/mm$/, '')),
    );
    const times = (across / width) * scale;
    expect(times).toBeGreaterThanOrEqual(1);
    expect(Math.abs(times - Math.round(times))).toBeLessThan(1e-4);
    expect((down / height) * scale).toBeCloseTo(times, 3);
    expect(across).toBeLessThanOrEqual(180);
  });

  it('stands alone with its colours', () => {
    const svg = standaloneDrawing(drawAppliance(closingSpring()) as string, 'dark');
    expect(svg).toContain('class="springwright-drawing dark"');
    const root = readXml(svg.slice(svg.indexOf('<svg')).trim());
    expect(root.children[0].name).toBe('style');
    // Written out: the orange of the palette on dark grounds, and nothing that a reader would have to look up.
    expect(root.children[0].text).toContain('.force .shaft { stroke: #e69f00;');
    expect(root.children[0].text).not.toMatch(/var\(|--/);
    const [, , width, height] = root.attributes.viewBox.split(' ');
    expect([root.attributes.width, root.attributes.height]).toEqual([width, height]);
  });
});

describe('what cannot be engaged', () => {
  it('is drawn as it is meant to lie and as it leaves the plier', () => {
    const spring = closingSpring();
    const analysis = {
      ...spring.analysis!,
      neutral: undefined,
      stages: [{ activation: 0, state: undefined, failure: { reason: 'no-neutral', motion: 3 } as const }],
    };
    const root = drawn({ ...spring, analysis });
    expect(withClass(view(root, 'buccal'), 'wire').map(({ attributes }) => attributes.class)).toEqual([
      'wire passive',
      'wire nominal',
    ]);
    expect(withClass(root, 'force')).toHaveLength(0);
    expect(root.children[1].text).toContain('No equilibrium');
  });

  it('is not drawn where there is no wire', () => {
    const spring = closingSpring();
    expect(drawAppliance({ ...spring, analysis: undefined })).toBeUndefined();
    expect(
      drawAppliance({ ...spring, analysis: { ...spring.analysis!, nominal: outlineOf([[0, 0, 0] as Vec3]) } }),
    ).toBeUndefined();
  });
});
