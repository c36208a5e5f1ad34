/**
 * Curves over the activation, each chart an SVG element: lines told apart by dashes and names at their ends, allowed regions
 * shaded, what friction leaves open as a band, one cursor at the activation shown.
 */
import { scaleLinear } from 'd3-scale';
import { area, curveMonotoneX, line } from 'd3-shape';
import { LENGTH } from '#core/units/dimension';
import { DEFAULT_PREFERENCES, displayUnit, formatQuantity, type UnitPreferences } from '#core/units/format';
import { unitFactor } from '#core/units/unit';
import type { ActivationCurves, Curve, CurveChart, Limit } from '#model/activation-curves';
import { fontSize, textWidth } from './labels';
import { coordinate, element, escapeText } from './svg';

export interface DrawnChart {
  readonly title: string;
  /** A complete `<svg>` element: classes and presentation attributes only. */
  readonly svg: string;
}

export interface ChartOptions {
  /** mm from neutral, for the cursor. */
  readonly activation?: number;
  readonly units?: UnitPreferences;
  readonly width?: number;
}

const height = 190;
const margin = { top: 30, bottom: 34, left: 46 };
/** Dashes of the first, second … line. */
const dashes = [undefined, '7 4', '2 3', '9 3 2 3', '1 4'];
const nameGap = 8;

export function drawActivationCharts(
  { activations, charts }: ActivationCurves,
  { activation, units = DEFAULT_PREFERENCES, width = 360 }: ChartOptions = {},
): DrawnChart[] {
  // The same for all, so that one cursor runs through them.
  const names = charts.flatMap(({ curves }) => curves.map(({ name }) => textWidth(name)));
  const right = Math.min(Math.max(...names) + nameGap + 8, 0.4 * width);
  return charts.map((chart, index) => ({
    title: chart.title,
    svg: drawChart(chart, activations, { activation, units, width, right, id: `springwright-chart-${index}` }),
  }));
}

interface ChartFrame extends ChartOptions {
  readonly units: UnitPreferences;
  readonly width: number;
  /** Room for names beside the frame. */
  readonly right: number;
  readonly id: string;
}

function drawChart(
  { title, dimension, curves }: CurveChart,
  activations: readonly number[],
  { activation, units, width, right, id }: ChartFrame,
): string {
  const unit = displayUnit({ value: 0, dimension }, units);
  const shown = (value: number): number => (unit === '' ? value : value / unitFactor(unit));
  const heading = unit ? `${title}, ${unit}` : title;
  const x = scaleLinear([activations[0], activations[activations.length - 1]], [margin.left, width - right]);
  const [low, high] = extent(curves);
  const y = scaleLinear([shown(low), shown(high)], [height - margin.bottom, margin.top]).nice(5);
  const place = (value: number): number => y(shown(value));
  const ends = namesApart(curves.map((curve) => lastPlace(curve, place)));
  const [bottom, top] = y.range();
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'springwright-drawing springwright-chart',
      viewBox: `0 0 ${width} ${height}`,
      role: 'img',
      'aria-labelledby': `${id}-title ${id}-description`,
      // For whoever picks an activation in it: canvas places and activations of the frame's sides.
      'data-sides': [margin.left, width - right].map(coordinate).join(' '),
      'data-activations': `${activations[0]} ${activations[activations.length - 1]}`,
    },
    element('title', { id: `${id}-title` }, escapeText(`${heading} against activation`)),
    element('desc', { id: `${id}-description` }, escapeText(describe(curves, activations, dimension, units))),
    element('rect', { class: 'ground', x: 0, y: 0, width, height }),
    write(margin.left, 16, heading, 'amount'),
    ...y
      .ticks(5)
      .map((tick) =>
        element(
          'g',
          { class: 'tick' },
          element('path', { class: 'grid', d: `M${margin.left} ${coordinate(y(tick))}H${width - right}` }),
          write(
            margin.left - 7,
            y(tick) + 4,
            tick.toLocaleString('en', { maximumSignificantDigits: 6, useGrouping: false }),
            'quiet',
            'end',
          ),
        ),
      ),
    ...x
      .ticks(6)
      .map((tick) =>
        element(
          'g',
          { class: 'tick' },
          element('path', { class: 'rule', d: `M${coordinate(x(tick))} ${bottom}v4` }),
          write(x(tick), bottom + 17, String(tick), 'quiet', 'middle'),
        ),
      ),
    write((margin.left + width - right) / 2, height - 4, 'activation, mm', 'quiet', 'middle'),
    ...curves.flatMap(({ limits, expression }, k) =>
      limits.map((limit) =>
        drawLimit(limit, expression, k, { x, place, bottom, top, left: margin.left, right: width - right }),
      ),
    ),
    ...curves.flatMap((curve) => frictionBand(curve, activations, x, place)),
    ...curves.map((curve, k) => drawLine(curve, activations, k, x, place)),
    ...curves.map(({ name }, k) =>
      ends[k] === undefined
        ? ''
        : write(
            width - right + nameGap,
            (ends[k] as number) + 4,
            shorten(name, right - nameGap - 4),
            `name line-${k % dashes.length}`,
          ),
    ),
    activation === undefined
      ? ''
      : element('path', { class: 'cursor', d: `M${coordinate(x(activation))} ${top}V${bottom}` }),
  );
}

/** Of everything that is drawn, with nought where that is near; mm, N, N mm or a number. */
function extent(curves: readonly Curve[]): readonly [number, number] {
  const values = curves.flatMap(({ values: own, friction, limits }) => [
    ...own.flatMap((value) => value ?? []),
    ...(friction ? [...friction.least, ...friction.most] : []),
    ...limits.flatMap(({ low, high }) => [low ?? [], high ?? []].flat()),
  ]);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (!(high > low)) return [low - 0.5 * Math.abs(low || 1), high + 0.5 * Math.abs(high || 1)];
  if (low > 0 && low < 0.6 * high) return [0, high];
  if (high < 0 && high > 0.6 * low) return [low, 0];
  return [low, high];
}

type Place = (value: number) => number;

function drawLine({ values }: Curve, activations: readonly number[], k: number, x: Place, place: Place): string {
  const path = line<number>()
    .defined((i) => values[i] !== undefined)
    .x((i) => x(activations[i]))
    .y((i) => place(values[i] as number))
    .curve(curveMonotoneX)(activations.map((_, i) => i));
  return element('path', {
    class: `curve line-${k % dashes.length}`,
    d: rounded(path ?? ''),
    fill: 'none',
    'stroke-dasharray': dashes[k % dashes.length],
  });
}

function frictionBand({ friction }: Curve, activations: readonly number[], x: Place, place: Place): readonly string[] {
  if (!friction) return [];
  const path = area<number>()
    .x((i) => x(activations[i]))
    .y0((i) => place(friction.least[i]))
    .y1((i) => place(friction.most[i]))
    .curve(curveMonotoneX)(activations.map((_, i) => i));
  return [element('path', { class: 'friction', d: rounded(path ?? '') })];
}

interface Frame {
  readonly x: Place;
  readonly place: Place;
  readonly bottom: number;
  readonly top: number;
  readonly left: number;
  readonly right: number;
}

/** Asked at one activation: a bar there; along all of them: a region. An open side reaches the edge. */
function drawLimit(
  { low, high, activation, outcome }: Limit,
  expression: string,
  k: number,
  { x, place, bottom, top, left, right }: Frame,
): string {
  const from = high === undefined ? top : place(high);
  const to = low === undefined ? bottom : place(low);
  const label = element('title', {}, escapeText(`${expression}: ${outcome}`));
  const kind = `limit ${outcome} line-${k % dashes.length}`;
  const box = (x0: number, x1: number) =>
    element('rect', { x: x0, y: Math.min(from, to), width: x1 - x0, height: Math.max(Math.abs(to - from), 1) });
  const edges = (x0: number, x1: number) =>
    [high === undefined ? [] : [from], low === undefined ? [] : [to]]
      .flat()
      .map((at) => element('path', { class: 'edge', d: `M${coordinate(x0)} ${coordinate(at)}H${coordinate(x1)}` }));
  const [x0, x1] = activation === undefined ? [left, right] : [x(activation) - BAR, x(activation) + BAR];
  return element('g', { class: kind }, label, box(x0, x1), ...edges(x0, x1));
}

/** Half the width of the bar of a limit at one activation. */
const BAR = 6;

function lastPlace({ values }: Curve, place: Place): number | undefined {
  const last = values.findLast((value) => value !== undefined);
  return last === undefined ? undefined : place(last);
}

/** Canvas heights of the names at the lines' ends, moved off each other. */
function namesApart(wanted: readonly (number | undefined)[]): readonly (number | undefined)[] {
  const order = wanted.flatMap((at, k) => (at === undefined ? [] : [{ at, k }])).sort((a, b) => a.at - b.at);
  const placed: (number | undefined)[] = wanted.map(() => undefined);
  let free = Number.NEGATIVE_INFINITY;
  for (const { at, k } of order) {
    placed[k] = Math.max(at, free);
    free = (placed[k] as number) + fontSize + 2;
  }
  // Pushed out below the frame, they move up together.
  const over = Math.max(0, free - fontSize - 2 - (height - margin.bottom));
  return placed.map((at) => (at === undefined ? undefined : at - over));
}

function shorten(text: string, room: number): string {
  if (textWidth(text) <= room) return text;
  let kept = text;
  while (kept.length > 1 && textWidth(`${kept}…`) > room) kept = kept.slice(0, -1);
  return `${kept}…`;
}

function describe(
  curves: readonly Curve[],
  activations: readonly number[],
  dimension: CurveChart['dimension'],
  units: UnitPreferences,
): string {
  const at = (k: number) => formatQuantity({ value: activations[k], dimension: LENGTH });
  const sentences = curves.map(({ name, values }) => {
    const known = values.flatMap((value, k) => (value === undefined ? [] : [k]));
    const amount = (k: number) => formatQuantity({ value: values[k] as number, dimension }, units);
    if (known.length === 0) return `${name}: no figure.`;
    const [first, last] = [known[0], known[known.length - 1]];
    return `${name}: ${amount(first)} at ${at(first)}, ${amount(last)} at ${at(last)}.`;
  });
  return sentences.join(' ');
}

function write(x: number, y: number, words: string, className: string, anchor?: string): string {
  return element('text', { x, y, class: className, 'text-anchor': anchor }, escapeText(words));
}

/** Path numbers to a hundredth. */
function rounded(path: string): string {
  return path.replace(/-?\d+\.\d+(?:e-?\d+)?/g, (number) => coordinate(Number(number)));
}
