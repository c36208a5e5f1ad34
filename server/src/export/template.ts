/**
 * One shape at its actual size, in millimetres on paper: the wire at its true thickness in one or two views, its overall
 * sizes, and a bar of 50 mm to check the print by. Renderers for SVG and PDF put the same lines and words on a page.
 */
import type { Outline } from '#core/analysis/analysis';
import type { Vec3 } from '#core/math/vector';
import { pointAt } from '#drawing/dimensions';
import { fontSize, textWidth } from '#drawing/labels';
import { project, type View, viewsOf } from '#drawing/view';
import { thickest, visibleThickness } from '#drawing/wire';
import type { Site } from '#model/site';
import type { NamedShape } from './shapes';

/** mm from the template's upper left corner; y down. */
export type Place = readonly [number, number];

export interface TemplateLine {
  readonly points: readonly Place[];
  /** mm */
  readonly width: number;
  readonly kind: 'wire' | 'rule';
}

export interface TemplateWords {
  readonly at: Place;
  readonly text: string;
  /** Of the letters, mm. */
  readonly size: number;
  readonly anchor: 'start' | 'middle' | 'end';
}

export interface Template {
  readonly width: number;
  readonly height: number;
  readonly lines: readonly TemplateLine[];
  readonly words: readonly TemplateWords[];
}

const margin = { side: 6, top: 8 };
/** Between the wire and the lines that tell its size, and below those. */
const gap = 5;
const letters = 2.8;
const rule = 0.15;
/** Of the bar that tells whether the print is at scale. */
export const CHECK_BAR = 50;
const barCaption = `${CHECK_BAR} mm long where the print is at scale`;

/** A second view where the shape leaves the first one's plane by more than its thickness. */
export function actualSize(shape: NamedShape, site: Site): Template {
  const { main, second } = viewsOf(site);
  const views = depthOf(shape.outline, main) > 2 * thickest(shape.made, main.name) ? [main, second] : [main];
  const lines: TemplateLine[] = [];
  const words: TemplateWords[] = [];
  let top = margin.top;
  let width = Math.max(CHECK_BAR, wordsWidth(barCaption)) + 2 * margin.side;
  for (const view of views) {
    const drawn = drawView(shape, view, top);
    lines.push(...drawn.lines);
    words.push(...drawn.words);
    width = Math.max(width, drawn.width);
    top = drawn.bottom + gap + letters;
  }
  const bar = checkBar(margin.side, top + gap);
  return { width, height: top + 3 * gap, lines: [...lines, ...bar.lines], words: [...words, ...bar.words] };
}

function drawView({ outline, made }: NamedShape, view: View, top: number) {
  const pieces = made.map(({ from, to, stock }) => ({
    points: between(outline, from, to).map((point): Place => {
      const { x, y } = project({ view, scale: 1, origin: [0, 0] }, point);
      return [x, y];
    }),
    width: visibleThickness(stock, view.name),
  }));
  const edges = pieces.flatMap(({ points, width }) => edgePoints(points, width / 2));
  const [left, right] = range(edges.map(([x]) => x));
  const [high, low] = range(edges.map(([, y]) => y));
  const place = ([x, y]: Place): Place => [margin.side + x - left, top + y - high];
  const size = { width: right - left, height: low - high };
  const bottom = top + size.height;
  const end = margin.side + size.width;
  const across = dimension([margin.side, bottom + gap], [end, bottom + gap], size.width);
  const down = dimension([end + gap, top], [end + gap, bottom], size.height);
  const wire = pieces.map(({ points, width }) => ({ points: points.map(place), width, kind: 'wire' as const }));
  return {
    lines: [...wire, ...across.lines, ...down.lines],
    words: [
      { at: [margin.side, top - 3] as const, text: view.title, size: letters, anchor: 'start' as const },
      ...across.words,
      ...down.words,
    ],
    width: end + gap + 16,
    bottom: bottom + gap + letters + 1,
  };
}

/** The points of a stretch, its ends among them. */
function between(outline: Outline, from: number, to: number): readonly Vec3[] {
  const inner = outline.stations.filter((station) => station > from + SAME_PLACE && station < to - SAME_PLACE);
  return [from, ...inner, to].map((station) => pointAt(outline, station));
}

/** mm along the wire */
const SAME_PLACE = 1e-6;

/** Of a line of some thickness with ends cut square and corners rounded: places on its edges, enough to tell its overall sizes. */
function edgePoints(points: readonly Place[], half: number): Place[] {
  const normals = points.slice(1).flatMap(([x, y], k): Place[] => {
    const [dx, dy] = [x - points[k][0], y - points[k][1]];
    const length = Math.hypot(dx, dy);
    return length > 0 ? [[-dy / length, dx / length]] : [[0, 0]];
  });
  return points.flatMap(([x, y], k) => {
    const beside = [normals[k - 1], normals[k]].filter((normal) => normal !== undefined);
    const sum = beside.reduce<Place>(([a, b], [c, d]) => [a + c, b + d], [0, 0]);
    const length = Math.hypot(...sum);
    const all = length > 0 ? [...beside, [sum[0] / length, sum[1] / length] as const] : beside;
    return all.flatMap(([a, b]): Place[] => [
      [x + half * a, y + half * b],
      [x - half * a, y - half * b],
    ]);
  });
}

/** A line with end strokes and its length. */
function dimension([x0, y0]: Place, [x1, y1]: Place, length: number) {
  const level = y0 === y1;
  const stroke = ([x, y]: Place): TemplateLine => ({
    points: level
      ? [
          [x, y - 1.2],
          [x, y + 1.2],
        ]
      : [
          [x - 1.2, y],
          [x + 1.2, y],
        ],
    width: rule,
    kind: 'rule',
  });
  const line: TemplateLine = {
    points: [
      [x0, y0],
      [x1, y1],
    ],
    width: rule,
    kind: 'rule',
  };
  const text = `${length.toFixed(1)} mm`;
  const words: TemplateWords = level
    ? { at: [(x0 + x1) / 2, y0 + letters + 0.8], text, size: letters, anchor: 'middle' }
    : { at: [x0 + 2, (y0 + y1) / 2 + letters / 3], text, size: letters, anchor: 'start' };
  return { lines: [line, stroke([x0, y0]), stroke([x1, y1])], words: [words] };
}

function checkBar(left: number, y: number): Pick<Template, 'lines' | 'words'> {
  const ticks = Array.from({ length: 6 }, (_, k) => left + (k * CHECK_BAR) / 5);
  return {
    lines: [
      {
        points: [
          [left, y],
          [left + CHECK_BAR, y],
        ],
        width: 0.4,
        kind: 'rule',
      },
      ...ticks.map(
        (x): TemplateLine => ({
          points: [
            [x, y - 1.5],
            [x, y + 1.5],
          ],
          width: rule,
          kind: 'rule',
        }),
      ),
    ],
    words: [
      {
        at: [left, y + 2 + letters],
        text: barCaption,
        size: letters,
        anchor: 'start',
      },
    ],
  };
}

/** mm */
function wordsWidth(words: string): number {
  return (textWidth(words) / fontSize) * letters;
}

function depthOf({ points }: Outline, { toward }: View): number {
  const [low, high] = range(points.filter((_, k) => k % 3 === toward.index));
  return high - low;
}

function range(values: readonly number[]): readonly [number, number] {
  return values.reduce<[number, number]>(
    ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
}
