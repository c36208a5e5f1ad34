/**
 * The weeks from visit to visit as one chart each: what has closed, how hard the wire pulls, how far each group has tipped. Visits
 * are marks on the axis, filled where the wire is activated.
 */
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { Course, CoursePoint } from '#core/response/visits';
import { ANGLE, FORCE, LENGTH } from '#core/units/dimension';
import { DEFAULT_PREFERENCES, displayUnit, formatQuantity, type UnitPreferences } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import { unitFactor } from '#core/units/unit';
import { weekOf } from '#model/results';
import { groupFigures } from '#model/tooth-movement';
import type { VisitPlan } from '#model/visit-plan';
import type { DrawnChart } from './activation-charts';
import { fontSize, textWidth } from './labels';
import { coordinate, element, escapeText } from './svg';

interface TimelineOptions {
  readonly units?: UnitPreferences;
  readonly width?: number;
}

interface TimeChart {
  readonly title: string;
  readonly dimension: Dimension;
  readonly curves: readonly { readonly name: string; readonly at: (point: CoursePoint) => number }[];
}

const height = 170;
const margin = { top: 30, bottom: 40, left: 46 };
const dashes = [undefined, '7 4', '2 3', '9 3 2 3', '1 4'];

export function drawVisitTimeline(
  { usual }: VisitPlan,
  { units = DEFAULT_PREFERENCES, width = 360 }: TimelineOptions = {},
): DrawnChart[] {
  const names = usual.points[0].design.groups.map(({ name }) => name);
  const right = Math.min(Math.max(...names.map((name) => textWidth(name))) + 16, 0.4 * width);
  return chartsOf(usual, names).map((chart, index) => ({
    title: chart.title,
    svg: drawChart(chart, usual, { units, width, right, id: `springwright-visits-${index}` }),
  }));
}

function chartsOf({ points }: Course, names: readonly string[]): TimeChart[] {
  const closes = points.some(({ closed }) => closed !== 0);
  const each = (at: (point: CoursePoint, k: number) => number) =>
    names.map((name, k) => ({ name, at: (point: CoursePoint) => at(point, k) }));
  return [
    ...(closes
      ? [{ title: 'space closed', dimension: LENGTH, curves: [{ name: '', at: ({ closed }: CoursePoint) => closed }] }]
      : []),
    {
      title: 'pull along the arch',
      dimension: FORCE,
      curves: each((point, k) => Math.abs(groupFigures(point.design, point.state)[k].wrench.force[0])),
    },
    {
      title: 'crown moved along the arch',
      dimension: LENGTH,
      curves: each(({ groups }, k) => Math.abs(groups[k].crownMoved[0])),
    },
    { title: 'tip', dimension: ANGLE, curves: each(({ groups }, k) => Math.abs(groups[k].turned[2])) },
  ];
}

interface Frame {
  readonly units: UnitPreferences;
  readonly width: number;
  readonly right: number;
  readonly id: string;
}

function drawChart(
  { title, dimension, curves }: TimeChart,
  { points, visits }: Course,
  { units, width, right, id }: Frame,
): string {
  const unit = displayUnit({ value: 0, dimension }, units);
  const heading = `${title}, ${unit}`;
  const shown = (value: number): number => value / unitFactor(unit);
  const last = Math.max(weekOf(points[points.length - 1].time), 1);
  const x = scaleLinear([0, last], [margin.left, width - right]);
  const most = Math.max(...curves.flatMap(({ at }) => points.map(at)), 0);
  const y = scaleLinear([0, Math.max(shown(most), 1e-9)], [height - margin.bottom, margin.top]).nice(4);
  const [bottom] = y.range();
  const describe = curves.map(({ name, at }) => {
    const [from, to] = [at(points[0]), at(points[points.length - 1])].map((value) =>
      formatQuantity({ value, dimension }, units),
    );
    return `${name === '' ? title : name}: ${from} at first, ${to} at the end.`;
  });
  const ends = curves.map(({ at }) => y(shown(at(points[points.length - 1]))));
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'springwright-drawing springwright-chart',
      viewBox: `0 0 ${width} ${height}`,
      role: 'img',
      'aria-labelledby': `${id}-title ${id}-description`,
    },
    element('title', { id: `${id}-title` }, escapeText(`${heading} over the weeks`)),
    element('desc', { id: `${id}-description` }, escapeText(describe.join(' '))),
    element('rect', { class: 'ground', x: 0, y: 0, width, height }),
    write(margin.left, 16, heading, 'amount'),
    ...y
      .ticks(4)
      .map(
        (tick) =>
          element('path', { class: 'grid', d: `M${margin.left} ${coordinate(y(tick))}H${width - right}` }) +
          write(margin.left - 6, y(tick) + 4, String(tick), 'quiet', 'end'),
      ),
    ...curves.map(({ name, at }, k) =>
      element(
        'g',
        { class: `line-${k}` },
        element('path', {
          class: 'curve',
          d:
            line<CoursePoint>(
              (point) => x(weekOf(point.time)),
              (point) => y(shown(at(point))),
            )(points) ?? '',
          fill: 'none',
          ...(dashes[k] && { 'stroke-dasharray': dashes[k] }),
        }),
        write(width - right + 8, apart(ends, k) + 4, name),
      ),
    ),
    ...visits.map(({ time, done }) =>
      element('circle', {
        class: done === 'activated' || done === 'reactivated' ? 'visit active' : 'visit',
        cx: coordinate(x(weekOf(time))),
        cy: bottom + 9,
        r: 3.5,
      }),
    ),
    ...x.ticks(5).map((tick) => write(x(tick), bottom + 28, String(tick), 'quiet', 'middle')),
    write(width - right + 8, bottom + 28, 'weeks', 'quiet'),
  );
}

/** Names at the ends of their curves, one below the other where curves end together. */
function apart(ends: readonly number[], index: number): number {
  const order = ends.map((_, k) => k).sort((a, b) => ends[a] - ends[b]);
  const places: number[] = [];
  for (const k of order) {
    const before = places.length > 0 ? Math.max(...places.filter((place) => place !== undefined)) : -Infinity;
    places[k] = Math.max(ends[k], before + fontSize + 2);
  }
  return places[index];
}

function write(x: number, y: number, content: string, name?: string, anchor?: string): string {
  return element(
    'text',
    { x: coordinate(x), y: coordinate(y), ...(name && { class: name }), ...(anchor && { 'text-anchor': anchor }) },
    escapeText(content),
  );
}
