/** Sizes on demand: distances between attachments, leg gaps, angles and radii of the bends. */
import type { EngagedState, Outline } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { norm, subtract, type Vec3 } from '#core/math/vector';
import { ANGLE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { PathStep } from '#model/resolved';
import type { Label, Obstacle } from './labels';
import { coordinate, element } from './svg';
import { type Projection, project } from './view';

export interface DrawnDimensions {
  readonly svg: string;
  readonly labels: readonly Label[];
  /** Lines that labels keep clear of. */
  readonly obstacles: readonly Obstacle[];
  /** For the bends that have none beside them. */
  readonly usualRadius: string | undefined;
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
  const usual = usualRadius(steps);
  const lines = [...between, ...gaps];
  return {
    svg: element('g', { class: 'dimensions' }, ...lines.map(({ svg }) => svg)),
    labels: [...lines.map(({ label }) => label), ...bendLabels(steps, usual, state.outline, projection)],
    obstacles: lines.flatMap(({ ends: [[x0, y0], [x1, y1]] }) => {
      const pieces = Math.max(1, Math.ceil(Math.hypot(x1 - x0, y1 - y0) / 8));
      return Array.from({ length: pieces + 1 }, (_, k) => ({
        x: x0 + ((x1 - x0) * k) / pieces,
        y: y0 + ((y1 - y0) * k) / pieces,
        radius: 2,
      }));
    }),
    usualRadius: usual,
  };
}

/** That of most bends, where at least three have it: told once, it leaves room. */
function usualRadius(steps: readonly PathStep[]): string | undefined {
  const counts = new Map<string, number>();
  for (const step of steps) {
    const radius = isDimensioned(step) && radiusOf(step);
    if (radius) counts.set(radius, (counts.get(radius) ?? 0) + 1);
  }
  const [most] = [...counts].sort(([, a], [, b]) => b - a);
  return most && most[1] >= 3 ? most[0] : undefined;
}

/** As it is printed; undefined for a sharp corner. */
function radiusOf({ radius }: PathStep): string | undefined {
  return radius ? formatQuantity({ value: radius, dimension: LENGTH }) : undefined;
}

function isDimensioned({ kind, angle }: PathStep): boolean {
  return (kind === 'bend' || kind === 'preactivate') && angle !== undefined && angle !== 0;
}

function betweenAttachments(from: Vec3, to: Vec3, projection: Projection, level: number) {
  const [a, b] = [from, to].map((place) => project(projection, place).x);
  const distance = norm(subtract(to, from));
  return {
    svg: line([a, level], [b, level], [0, 5]),
    ends: [
      [a, level],
      [b, level],
    ] as const,
    label: label([formatQuantity({ value: distance, dimension: LENGTH })], [(a + b) / 2, level], [0, 1], 4),
  };
}

function legGap(from: Vec3, to: Vec3, name: string, gap: number, projection: Projection) {
  const [a, b] = [from, to].map((place) => project(projection, place));
  const amount = formatQuantity({ value: Math.abs(gap), dimension: LENGTH });
  return {
    svg: line([a.x, a.y], [b.x, b.y], [0, 6]),
    ends: [
      [a.x, a.y],
      [b.x, b.y],
    ] as const,
    label: label(
      [amount, `${name} leg gap${gap < 0 ? ', crossed' : ''}`],
      [(a.x + b.x) / 2, (a.y + b.y) / 2],
      [0, 1],
      14,
    ),
  };
}

/** One for each bend, or for bends that lie so near to each other that there is no telling which a label is of. */
function bendLabels(
  steps: readonly PathStep[],
  usual: string | undefined,
  outline: Outline,
  projection: Projection,
): readonly Label[] {
  const bends = steps.filter(isDimensioned).map((step) => {
    const { x, y } = project(projection, pointAt(outline, (step.from + step.to) / 2));
    const radius = radiusOf(step);
    const angle = formatQuantity({ value: step.angle ?? 0, dimension: ANGLE });
    return { x, y, angle, radius: radius === usual ? undefined : radius };
  });
  const groups: (typeof bends)[] = [];
  for (const bend of bends) {
    const group = groups.at(-1);
    const last = group?.at(-1);
    const isNear = last && Math.hypot(bend.x - last.x, bend.y - last.y) < NEAR;
    if (isNear && bend.radius === last.radius) group?.push(bend);
    else groups.push([bend]);
  }
  return groups.map((group) => {
    const [{ radius }] = group;
    const lines = [inTurn(group.map(({ angle }) => angle)), ...(radius ? [`radius ${radius}`] : [])];
    const [x, y] = [0, 1].map((k) => group.reduce((sum, one) => sum + [one.x, one.y][k], 0) / group.length);
    return label(lines, [x, y], [0, -1], 12);
  });
}

/** "90 deg, 15 deg", "3 × 90 deg, 15 deg" */
function inTurn(angles: readonly string[]): string {
  const runs: { readonly angle: string; count: number }[] = [];
  for (const angle of angles) {
    const last = runs.at(-1);
    if (last?.angle === angle) last.count += 1;
    else runs.push({ angle, count: 1 });
  }
  return runs.map(({ angle, count }) => (count > 1 ? `${count} × ${angle}` : angle)).join(', ');
}

/** Canvas distance. */
const NEAR = 16;

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
