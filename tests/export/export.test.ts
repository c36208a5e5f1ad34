/** What is given out is read back: sizes in millimetres, places and figures those of the analysis. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import DxfParser from 'dxf-parser';
import { beforeAll, describe, expect, it } from 'vitest';
import { curvesCsv, shapesCsv } from '#export/csv';
import { shapesAndCurvesJson } from '#export/json';
import { shapesDxf } from '#export/outline-dxf';
import { shapesOf } from '#export/shapes';
import { actualSize, CHECK_BAR } from '#export/template';
import { templateSvg } from '#export/template-svg';
import { activationCurves } from '#model/activation-curves';
import type { SnapshotAppliance } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';
import { pathPoints, readXml, type XmlElement } from '../drawing/svg-reading';

const examples = resolve(import.meta.dirname, '../../examples');
const text = readFileSync(resolve(examples, '06-space-closing-spring.spring'), 'utf8');
let spring: SnapshotAppliance;

beforeAll(async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open('file:///a.spring', text, 1);
  spring = (await workspace.snapshot('file:///a.spring'))!.appliances[0];
});

/** Plain values: none of ours holds a comma or a quote. */
const csv = (table: string) =>
  table
    .trimEnd()
    .split('\r\n')
    .map((line) => line.split(','));

describe('CSV', () => {
  it('of the shapes holds every point in mm', () => {
    const [headings, ...rows] = csv(shapesCsv(shapesOf(spring)));
    expect(headings).toEqual(['shape', 'station_mm', 'mesial_mm', 'gingival_mm', 'buccal_mm']);
    for (const [name, outline] of [
      ['nominal', spring.analysis!.nominal],
      ['passive', spring.analysis!.passive],
      ['neutral', spring.analysis!.neutral!.outline],
    ] as const) {
      const own = rows.filter(([shape]) => shape === name);
      expect(own).toHaveLength(outline.stations.length);
      own.forEach(([, station, ...place], k) => {
        expect(Number(station)).toBeCloseTo(outline.stations[k], 6);
        const point = outline.points.slice(3 * k, 3 * k + 3);
        expect(Math.max(...place.map((value, axis) => Math.abs(Number(value) - point[axis])))).toBeLessThan(1e-6);
      });
    }
  });

  it('of the curves holds every stage, in N, N mm and mm', () => {
    const [headings, ...rows] = csv(curvesCsv(activationCurves(spring, text)!));
    const { stages } = spring.analysis!;
    const distal = headings.indexOf('canine.force.distal [N]');
    const crown = headings.indexOf('canine.moment.crown_mesial [N mm]');
    const gap = headings.indexOf('loop.leg_gap [mm]');
    expect(rows).toHaveLength(9);
    for (const [k, row] of rows.entries()) {
      const { state } = stages[k];
      expect(Number(row[0])).toBe(state!.activation);
      expect(Number(row[distal])).toBeCloseTo(-state!.wrenches[1].force[0], 6);
      expect(Number(row[crown])).toBeCloseTo(state!.wrenches[1].moment[2], 6);
      expect(Number(row[gap])).toBeCloseTo(state!.loops[0].legGap, 6);
    }
  });
});

describe('JSON', () => {
  it('holds shapes and curves as the tables do', () => {
    const curves = activationCurves(spring, text)!;
    const read = JSON.parse(shapesAndCurvesJson('spring', shapesOf(spring), curves));
    expect(read.appliance).toBe('spring');
    expect(read.activations).toEqual(curves.activations);
    const { points, stations } = spring.analysis!.passive;
    const passive = read.shapes.find(({ shape }: { shape: string }) => shape === 'passive');
    expect(passive.points).toHaveLength(stations.length);
    expect(Math.abs(passive.points[7][1] - points[3 * 7 + 1])).toBeLessThan(1e-6);
    const ratio = read.curves.find(({ expression }: { expression: string }) =>
      expression.includes('canine.moment.crown_mesial / '),
    );
    // Without a pull at neutral there is no ratio.
    expect(ratio.values[0]).toBeNull();
    expect(ratio.values[6]).toBeCloseTo(6.62, 1);
  });
});

describe('DXF', () => {
  it('says millimetres and holds a polyline per shape, as another reader has it (dxf-parser)', () => {
    const read = new DxfParser().parseSync(shapesDxf(shapesOf(spring)))!;
    // Group 70 of $INSUNITS: 4 is the millimetre (DXF reference, header section).
    expect(read.header.$INSUNITS).toBe(4);
    const lines = read.entities.filter(({ type }) => type === 'POLYLINE') as unknown as {
      layer: string;
      vertices: { x: number; y: number; z: number }[];
    }[];
    expect(lines.map(({ layer }) => layer)).toEqual(['NOMINAL', 'PASSIVE', 'NEUTRAL', 'ENGAGED']);
    const { points } = spring.analysis!.passive;
    const passive = lines[1].vertices;
    expect(passive).toHaveLength(points.length / 3);
    passive.forEach(({ x, y, z }, k) => {
      expect(Math.hypot(x - points[3 * k], y - points[3 * k + 1], z - points[3 * k + 2])).toBeLessThan(1e-6);
    });
  });
});

describe('the template at actual size', () => {
  const drawn = () => {
    const passive = shapesOf(spring).find(({ name }) => name === 'passive')!;
    return readXml(
      templateSvg(actualSize(passive, spring.appliance.site), 'passive')
        .replace(/^<\?xml.*\?>\n/, '')
        .trimEnd(),
    );
  };
  const paths = (svg: XmlElement) => svg.children.filter(({ name }) => name === 'path');

  it('has canvas units of a millimetre', () => {
    const { width, height, viewBox } = drawn().attributes;
    expect(width).toMatch(/^[\d.]+mm$/);
    expect(viewBox).toBe(`0 0 ${width.slice(0, -2)} ${height.slice(0, -2)}`);
  });

  it('draws the wire with its own lengths and thickness, and the bar with its', () => {
    const svg = drawn();
    const [cheek] = paths(svg).filter(({ attributes }) => attributes.class === 'wire');
    const { points } = spring.analysis!.passive;
    const on = pathPoints(cheek);
    expect(Number(cheek.attributes['stroke-width'])).toBeCloseTo(0.017 * 25.4, 2);
    // Micrometres, in the plane of the view: mesial to the right, gingival up.
    for (let k = 1; k < on.length; k++) {
      expect(on[k][0] - on[0][0]).toBeCloseTo(points[3 * k] - points[0], 2);
      expect(on[0][1] - on[k][1]).toBeCloseTo(points[3 * k + 1] - points[1], 2);
    }
    const lengths = paths(svg)
      .filter(({ attributes }) => attributes['stroke-width'] === '0.4')
      .map((path) => {
        const [[x0], [x1]] = pathPoints(path);
        return x1 - x0;
      });
    expect(lengths).toEqual([CHECK_BAR]);
  });

  /** Round wire of 0.4 mm in the plane of the cheek. */
  const plain = (places: readonly (readonly [number, number])[], ...diameters: readonly number[]) => {
    const stations = places.map((_, k) => k);
    const each = (places.length - 1) / diameters.length;
    return actualSize(
      {
        name: 'passive',
        outline: { stations, points: places.flatMap(([x, y]) => [x, y, 0]), sides: places.flatMap(() => [0, 0, 1]) },
        made: diameters.map((diameter, k) => ({
          from: k * each,
          to: (k + 1) * each,
          stock: { section: { kind: 'round', diameter }, alloy: spring.appliance.design!.alloy, count: 1 },
        })),
      },
      { kind: 'quadrant', arch: 'upper', side: 'right' },
    );
  };
  const sizes = (template: ReturnType<typeof actualSize>) =>
    template.words.flatMap(({ text: words }) => /^([\d.]+) mm$/.exec(words)?.[1] ?? []);

  it('tells overall sizes of the wire with its thickness, its ends cut square', () => {
    expect(
      sizes(
        plain(
          [0, 9, 20, 37].map((x) => [x, 0]),
          0.4,
        ),
      ),
    ).toEqual(['37.0', '0.4']);
    // 20 mm and 2 mm across, at 30 degrees: 20 cos 30 + 2 sin 30 and 20 sin 30 + 2 cos 30.
    const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
    expect(
      sizes(
        plain(
          [0, 7, 20].map((x) => [x * c, x * s]),
          2,
        ),
      ),
    ).toEqual([(20 * c + 2 * s).toFixed(1), (20 * s + 2 * c).toFixed(1)]);
    const half = Array.from(
      { length: 181 },
      (_, k) => [3 * Math.cos((k * Math.PI) / 180), 3 * Math.sin((k * Math.PI) / 180)] as const,
    );
    expect(sizes(plain(half, 0.4))).toEqual(['6.4', '3.2']);
    expect(
      sizes(
        plain(
          [
            [0, 0],
            [5, 0],
            [5, 5],
          ],
          0.4,
        ),
      ),
    ).toEqual(['5.2', '5.2']);
  });

  it('draws each stretch of a stepped wire as thick as it is', () => {
    const { lines } = plain(
      [0, 4, 8, 12].map((x) => [x, 0]),
      0.4,
      0.8,
      0.6,
    );
    const wire = lines.filter(({ kind }) => kind === 'wire');
    expect(wire.map(({ width }) => width)).toEqual([0.4, 0.8, 0.6]);
    for (const [k, { points }] of wire.entries()) {
      expect(points[0][0] - wire[0].points[0][0]).toBeCloseTo(4 * k, 12);
      expect(points.at(-1)![0] - points[0][0]).toBeCloseTo(4, 12);
    }
  });
});
