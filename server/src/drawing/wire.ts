/** One shape of the wire in one view. */
import type { Outline } from '#core/analysis/analysis';
import type { Stock } from '#core/design';
import { outerSection, type Stretch } from '#model/stock';
import { type Overpass, overpasses } from './overpasses';
import { element, polyline } from './svg';
import { type Projected, type Projection, project } from './view';

export type Shape = 'nominal' | 'passive' | 'neutral' | 'engaged' | 'auxiliary' | 'compared';

/**
 * The wire in a view. Neutral and engaged shape and an auxiliary wire have their true thickness (neutral hollow, engaged full,
 * auxiliary with a dashed core) and show which leg passes in front; nominal (dotted), passive (dashed) and another
 * appliance that it is compared with (dashed and dotted; by its number where there are several) are centre lines.
 */
export function drawWire(
  outline: Outline,
  made: readonly Stretch[],
  projection: Projection,
  shape: Shape,
  number = 1,
): string {
  const whole = path(projected(outline, projection));
  if (isCentreLine(shape)) {
    return element('path', { class: wireClass(shape, number), d: whole, fill: 'none' });
  }
  const { points, stations, crossings } = crossingWire(outline, made, projection);
  const widthAt = (station: number): number =>
    visibleThickness(stretchAt(made, station), projection.view.name) * projection.scale;
  return element(
    'g',
    { class: `wire ${shape}`, fill: 'none', 'stroke-linejoin': 'round' },
    ...made.map(({ from, to }) =>
      strokes(made.length === 1 ? whole : path(piece(points, stations, from, to)), widthAt((from + to) / 2), shape),
    ),
    ...crossings.map((crossing) => drawOverpass(points, crossing, widthAt(stations[crossing.from]), shape)),
  );
}

/** The wire on the canvas, finely divided, and where it passes in front of itself, from the farther to the nearer. */
export function crossingWire(outline: Outline, made: readonly Stretch[], projection: Projection): CrossingWire {
  const { points, stations } = sample(outline, projection);
  const across = projection.view.name === 'buccal' ? 'occlusal' : 'buccal';
  const thickness = thickest(made, projection.view.name);
  const crossings = overpasses(
    points,
    stations,
    thickness * projection.scale + casing,
    2.5 * thickness,
    0.25 * thickest(made, across),
  );
  return { points, stations, crossings };
}

export interface CrossingWire {
  readonly points: readonly Projected[];
  /** mm */
  readonly stations: readonly number[];
  readonly crossings: readonly Overpass[];
}

/** Of those laid over, each has another kind of line; there are four, then they come again. */
export function wireClass(shape: Shape, number = 1): string {
  const kind = ((number - 1) % 4) + 1;
  return shape === 'compared' && kind > 1 ? `wire compared line-${kind}` : `wire ${shape}`;
}

/** Dotted, dashed, or dashed and dotted. */
export function isCentreLine(shape: Shape): boolean {
  return shape === 'nominal' || shape === 'passive' || shape === 'compared';
}

/** Size of the wire across the line of sight, mm, where it runs mesially and stands edgewise. */
export function visibleThickness(stock: Pick<Stock, 'section' | 'count'>, view: 'buccal' | 'occlusal'): number {
  const section = outerSection(stock);
  if (section.kind === 'round') return section.diameter;
  return view === 'buccal' ? section.height : section.width;
}

/** mm */
export function thickest(made: readonly Stretch[], view: 'buccal' | 'occlusal'): number {
  return Math.max(...made.map(({ stock }) => visibleThickness(stock, view)));
}

function stretchAt(made: readonly Stretch[], station: number): Stock {
  return (made.find(({ to }) => station <= to) ?? made[made.length - 1]).stock;
}

/** The points between two stations, and the next one on either side so that no gap shows. */
function piece(points: readonly Projected[], stations: readonly number[], from: number, to: number): Projected[] {
  return points.filter((_, k) => (stations[k + 1] ?? stations[k]) >= from && (stations[k - 1] ?? stations[k]) <= to);
}

/** Background left free on each side of a leg that passes in front. */
const casing = 2;

/** Largest canvas distance between sampled points. */
const spacing = 2.5;

function drawOverpass(points: readonly Projected[], { from, to }: Overpass, width: number, shape: Shape): string {
  // The wire reaches a little beyond its casing, so that no seam shows where the piece joins the rest.
  const reached = path(points.slice(Math.max(0, from - 1), to + 2));
  return element('g', { class: 'over' }, drawCasing(points, from, to, width), strokes(reached, width, shape));
}

/** What keeps a leg free of the one behind it. */
export function drawCasing(points: readonly Projected[], from: number, to: number, width: number): string {
  const d = path(points.slice(from, to + 1));
  return element('path', { class: 'casing', d, 'stroke-width': width + 2 * casing });
}

function strokes(d: string, width: number, shape: Shape): string {
  const body = element('path', { class: 'body', d, 'stroke-width': width });
  const core =
    shape === 'neutral' || shape === 'auxiliary'
      ? element('path', { class: 'core', d, 'stroke-width': Math.max(width - 2.4, 1) })
      : '';
  return body + core;
}

function path(points: readonly Projected[]): string {
  return polyline(points.map(({ x, y }) => [x, y]));
}

function projected({ stations, points }: Outline, projection: Projection): Projected[] {
  return stations.map((_, k) => project(projection, [points[3 * k], points[3 * k + 1], points[3 * k + 2]]));
}

/** The outline on the canvas, divided so finely that crossings are found wherever they lie. */
function sample(outline: Outline, projection: Projection): { points: Projected[]; stations: number[] } {
  const points: Projected[] = [];
  const stations: number[] = [];
  for (let k = 0; k < outline.stations.length; k++) {
    const next = project(projection, [outline.points[3 * k], outline.points[3 * k + 1], outline.points[3 * k + 2]]);
    if (k > 0) {
      const last = points[points.length - 1];
      const lastStation = stations[stations.length - 1];
      const pieces = Math.ceil((projection.scale * (outline.stations[k] - lastStation)) / spacing);
      for (let piece = 1; piece < pieces; piece++) {
        const part = piece / pieces;
        points.push({
          x: last.x + part * (next.x - last.x),
          y: last.y + part * (next.y - last.y),
          nearness: last.nearness + part * (next.nearness - last.nearness),
        });
        stations.push(lastStation + part * (outline.stations[k] - lastStation));
      }
    }
    points.push(next);
    stations.push(outline.stations[k]);
  }
  return { points, stations };
}
