/** Sizes on demand: distances between attachments, leg gaps, angles and radii of the bends. */
import type { EngagedState, Outline } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { norm, subtract, type Vec3 } from '#core/math/vector';
import { ANGLE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { PathStep } from '#model/resolved';
import type { Label } from './labels';
import { coordinate, element } from './svg';
import { type Projection, project } from './view';

export interface DrawnDimensions {
  readonly svg: string;
  readonly labels: readonly Label[];
}

/**
 * @param places  of the attachments in the state
 * @param level  canvas height of the line between the attachments
 */
export function drawDimensions(
  design: ApplianceDesign,
  steps: readonly PathStep[],
  state: EngagedState,
  places: readonly Vec3[],
  projection: Projection,
  level: number,
): DrawnDimensions {
  const between = places.slice(1).map((place, k) => betweenAttachments(places[k], place, projection, level));
  const gaps = design.loops.map(({ feet, name }, k) =>
    legGap(pointAt(state.outline, feet[0]), pointAt(state.outline, feet[1]), name, state.loops[k].legGap, projection),
  );
  return {
    svg: element('g', { class: 'dimensions' }, ...[...between, ...gaps].map(({ svg }) => svg)),
    labels: [
      ...[...between, ...gaps].map(({ label }) => label),
      ...steps.flatMap((step) => bendLabel(step, state.outline, projection)),
    ],
  };
}

function betweenAttachments(from: Vec3, to: Vec3, projection: Projection, level: number) {
  const [a, b] = [from, to].map((place) => project(projection, place).x);
  const distance = norm(subtract(to, from));
  return {
    svg: line([a, level], [b, level], [0, 5]),
    label: label([formatQuantity({ value: distance, dimension: LENGTH })], [(a + b) / 2, level], [0, 1], 4),
  };
}

function legGap(from: Vec3, to: Vec3, name: string, gap: number, projection: Projection) {
  const [a, b] = [from, to].map((place) => project(projection, place));
  const amount = formatQuantity({ value: Math.abs(gap), dimension: LENGTH });
  return {
    svg: line([a.x, a.y], [b.x, b.y], [0, 6]),
    label: label(
      [amount, `${name} leg gap${gap < 0 ? ', crossed' : ''}`],
      [(a.x + b.x) / 2, (a.y + b.y) / 2],
      [0, 1],
      14,
    ),
  };
}

function bendLabel(
  { kind, angle, radius, from, to }: PathStep,
  outline: Outline,
  projection: Projection,
): readonly Label[] {
  if ((kind !== 'bend' && kind !== 'preactivate') || angle === undefined || angle === 0) return [];
  const { x, y } = project(projection, pointAt(outline, (from + to) / 2));
  const lines = [
    formatQuantity({ value: angle, dimension: ANGLE }),
    ...(radius ? [`radius ${formatQuantity({ value: radius, dimension: LENGTH })}`] : []),
  ];
  return [label(lines, [x, y], [0, -1], 12)];
}

function label(
  lines: readonly string[],
  anchor: readonly [number, number],
  toward: readonly [number, number],
  distance: number,
): Label {
  return { class: 'dimension', lines, anchor, toward, distance };
}

/** With end strokes as long as given, either way. */
function line(
  a: readonly [number, number],
  b: readonly [number, number],
  [across, down]: readonly [number, number],
): string {
  const stroke = ([x, y]: readonly [number, number]) =>
    `M${coordinate(x - across)} ${coordinate(y - down)}L${coordinate(x + across)} ${coordinate(y + down)}`;
  const along = `M${coordinate(a[0])} ${coordinate(a[1])}L${coordinate(b[0])} ${coordinate(b[1])}`;
  return element('path', { class: 'rule', d: `${along}${stroke(a)}${stroke(b)}` });
}

/** On the line at a station of the wire, mm. */
export function pointAt({ stations, points }: Outline, station: number): Vec3 {
  const next = stations.findIndex((one) => one >= station);
  const k = next < 0 ? stations.length - 1 : next;
  const at = (i: number): Vec3 => [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
  if (k === 0 || next < 0) return at(k);
  const part = (station - stations[k - 1]) / Math.max(stations[k] - stations[k - 1], Number.MIN_VALUE);
  const [a, b] = [at(k - 1), at(k)];
  return [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]), a[2] + part * (b[2] - a[2])];
}
