/**
 * Handles on the wire: where a parameter sets a length, a radius, an angle or a place of an arch, a knob at that place. What a movement of the knob
 * comes to stands with it, so that a page needs to know nothing of the wire:
 *
 * - `data-parameter`, its name, and `data-kind`, `length`, `radius`, `angle` or `place`;
 * - `data-along`, for all but angles: canvas vector by which the knob moves where the parameter, in SI-derived units, grows by one;
 * - `data-about` and `data-turn`, for angles: canvas point round which it turns, and canvas radians (clockwise) per unit.
 */
import type { Outline } from '#core/analysis/analysis';
import { add, addScaled, cross, norm, scale, subtract, type Vec3 } from '#core/math/vector';
import type { ParameterSize } from '#model/parameter-sizes';
import { pointAt } from './dimensions';
import type { Obstacle } from './labels';
import { coordinate, element } from './svg';
import { along, type Projection, project } from './view';

export interface DrawnHandles {
  readonly svg: string;
  readonly obstacles: readonly Obstacle[];
  /** Parameters that have a handle in this view. */
  readonly parameters: ReadonlySet<string>;
}

type Point = readonly [number, number];

interface Knob {
  readonly size: ParameterSize;
  readonly at: Point;
  /** Canvas direction in which it moves, of length one. */
  readonly toward: Point;
  readonly data: Readonly<Record<string, string>>;
  /** What shows the size that it sets. */
  readonly guide: string;
}

/** Canvas distances of an angle's knob from its bend, the first where no other is near. */
const ARMS = [44, 70, 30, 96];
/** Least distance between two knobs where there is room. */
const APART = 22;
/** Less of a length or an angle than this part of it in the view's plane, and it is not to be seen in it. */
const SEEN = 0.7;
const RADIUS = 6.5;

/**
 * Of each parameter the first of its sizes that is to be seen in the view with its knob clear of those before it.
 *
 * @param sizes  by parameter, the better places first
 * @param outline  the shape that they are drawn on
 * @param fixed  station of the wire that stands still in the drawing, mm
 */
export function drawHandles(
  sizes: readonly ParameterSize[],
  outline: Outline,
  fixed: number,
  projection: Projection,
): DrawnHandles {
  const choices = [...new Set(sizes.map(({ parameter }) => parameter))].map((parameter) =>
    sizes.filter((size) => size.parameter === parameter).flatMap((size) => knobsOf(size, outline, fixed, projection)),
  );
  const placed = new Map<readonly Knob[], Knob>();
  const clearance = ({ at }: Knob): number =>
    Math.min(Number.MAX_VALUE, ...[...placed.values()].map((other) => apart(at, other.at)));
  // Those that have little choice choose first.
  for (const own of [...choices].sort((a, b) => a.length - b.length)) {
    const best =
      own.find((knob) => clearance(knob) >= APART) ?? [...own].sort((a, b) => clearance(b) - clearance(a))[0];
    if (best) placed.set(own, best);
  }
  const knobs = choices.flatMap((own) => placed.get(own) ?? []);
  return {
    svg: knobs.length === 0 ? '' : element('g', { class: 'handles' }, ...knobs.map(drawKnob)),
    obstacles: knobs.map(({ at: [x, y] }) => ({ x, y, radius: 12 })),
    parameters: new Set(knobs.map(({ size }) => size.parameter)),
  };
}

function knobsOf(size: ParameterSize, outline: Outline, fixed: number, projection: Projection): readonly Knob[] {
  if (size.kind === 'place') return placeKnob(size, outline, projection);
  if (size.kind === 'length') return lengthKnob(size, outline, fixed, projection);
  if (size.kind === 'radius') return radiusKnob(size, outline, projection);
  return ARMS.flatMap((arm) => angleKnob(size, arm, outline, projection));
}

/** At the end of the straight piece that moves as it grows: the one farther along the wire from what stands still. */
function lengthKnob(size: ParameterSize, outline: Outline, fixed: number, projection: Projection): readonly Knob[] {
  const { from, to } = size.step;
  const forward = to > fixed;
  const direction = scale(tangentAt(outline, forward ? to : from, forward ? 'before' : 'after'), forward ? 1 : -1);
  const [x, y] = seen(direction, projection);
  if (Math.hypot(x, y) < SEEN * projection.scale) return [];
  const at = canvasPoint(pointAt(outline, forward ? to : from), projection);
  return [slidingKnob(size, at, [size.rate * x, size.rate * y], '')];
}

function placeKnob(size: ParameterSize, outline: Outline, projection: Projection): readonly Knob[] {
  if (!size.moves) return [];
  const [x, y] = seen(size.moves.toward, projection);
  if (Math.hypot(x, y) < SEEN * projection.scale) return [];
  const at = canvasPoint(pointAt(outline, size.moves.station), projection);
  return [slidingKnob(size, at, [size.rate * x, size.rate * y], '')];
}

/** In the middle of the bend, on the side away from its centre. */
function radiusKnob(size: ParameterSize, outline: Outline, projection: Projection): readonly Knob[] {
  const { from, to, radius = 0, kind } = size.step;
  // A helix turns more than once: a quarter of its first turn tells its centre as well.
  const end = kind === 'helix' ? from + Math.min(to - from, Math.PI * radius) : to;
  if (!(end > from)) return [];
  const [first, middle, last] = [from, (from + end) / 2, end].map((station) => pointAt(outline, station));
  const centre = circleCentre(first, middle, last);
  const outward = centre && subtract(middle, centre);
  if (!outward) return [];
  const [x, y] = seen(scale(outward, 1 / norm(outward)), projection);
  if (Math.hypot(x, y) < SEEN * projection.scale) return [];
  const at = canvasPoint(middle, projection);
  const guide = line(canvasPoint(centre, projection), at);
  return [slidingKnob(size, at, [size.rate * x, size.rate * y], guide)];
}

function slidingKnob(size: ParameterSize, at: Point, vector: Point, guide: string): Knob {
  const length = Math.hypot(...vector);
  return {
    size,
    at,
    toward: [vector[0] / length, vector[1] / length],
    data: { 'data-along': vector.map((value) => precise(value)).join(' ') },
    guide,
  };
}

/** On a ray that leaves the bend as the wire does where nothing bends it: a turn by the angle from where the wire comes in. */
function angleKnob(size: ParameterSize, arm: number, outline: Outline, projection: Projection): readonly Knob[] {
  const { rate } = size;
  const { from, to, angle = 0 } = size.step;
  if (!size.axis) return [];
  const tangent = tangentAt(outline, from, from > 0 ? 'before' : 'after');
  const axis = fromSection(size.axis, tangent, sideAt(outline, from));
  const [x, y] = seen(tangent, projection);
  const [acrossX, acrossY] = seen(cross(axis, tangent), projection);
  const inPlane = Math.abs(x * acrossY - y * acrossX) / projection.scale ** 2;
  if (inPlane < SEEN) return [];
  const sense = x * acrossY - y * acrossX > 0 ? 1 : -1;
  const about = canvasPoint(pointAt(outline, (from + to) / 2), projection);
  const incoming = Math.atan2(y, x);
  const along = (phi: number): Point => [about[0] + arm * Math.cos(phi), about[1] + arm * Math.sin(phi)];
  const outgoing = incoming + sense * angle;
  const at = along(outgoing);
  const way = Math.abs(angle) > Math.PI ? 1 : 0;
  const arc = `M${places(along(incoming))}` + `A${arm} ${arm} 0 ${way} ${sense * angle > 0 ? 1 : 0} ${places(at)}`;
  return [
    {
      size,
      at,
      toward: [-Math.sin(outgoing), Math.cos(outgoing)],
      data: { 'data-about': places(about), 'data-turn': precise(sense * rate) },
      guide:
        line(about, along(incoming), 'incoming') +
        line(about, at) +
        element('path', { class: 'guide', d: arc, fill: 'none' }),
    },
  ];
}

/** From the section frame (tangent, up, side) to the outer one. */
function fromSection([along, above, beside]: Vec3, tangent: Vec3, side: Vec3): Vec3 {
  return add(scale(tangent, along), add(scale(cross(side, tangent), above), scale(side, beside)));
}

function tangentAt(outline: Outline, station: number, where: 'before' | 'after'): Vec3 {
  const end = outline.stations[outline.stations.length - 1];
  const [a, b] = where === 'before' ? [station - NEAR, station] : [station, station + NEAR];
  const chord = subtract(pointAt(outline, Math.min(b, end)), pointAt(outline, Math.max(a, 0)));
  return scale(chord, 1 / (norm(chord) || 1));
}

/** mm along the wire, much less than anyone bends. */
const NEAR = 0.02;

function sideAt({ stations, sides }: Outline, station: number): Vec3 {
  const next = stations.findIndex((one) => one >= station);
  const k = Math.max(next, 0);
  return [sides[3 * k], sides[3 * k + 1], sides[3 * k + 2]];
}

/** Of the circle through three points; undefined where they lie in a line. */
function circleCentre(a: Vec3, b: Vec3, c: Vec3): Vec3 | undefined {
  const [u, v] = [subtract(a, c), subtract(b, c)];
  const normal = cross(u, v);
  const square = norm(normal) ** 2;
  if (square < 1e-12) return undefined;
  const toward = cross(addScaled(scale(v, norm(u) ** 2), u, -(norm(v) ** 2)), normal);
  return addScaled(c, toward, 1 / (2 * square));
}

/** Canvas vector of a vector of the outer frame. */
function seen(vector: Vec3, { view, scale: size }: Projection): Point {
  return [size * along(view.right, vector), -size * along(view.up, vector)];
}

function canvasPoint(place: Vec3, projection: Projection): Point {
  const { x, y } = project(projection, place);
  return [x, y];
}

/** A disc with a point either way, along which it moves. */
function drawKnob({ size, at: [x, y], toward: [right, down], data, guide }: Knob): string {
  const tip = (way: 1 | -1): string => {
    const [near, far, half] = [RADIUS + 3, RADIUS + 10, 5.5];
    const point = (by: number, across: number) =>
      places([x + way * by * right - across * down, y + way * by * down + across * right]);
    return `M${point(far, 0)}L${point(near, half)}L${point(near, -half)}Z`;
  };
  return element(
    'g',
    {
      class: `handle ${size.kind}`,
      'data-parameter': size.parameter,
      'data-kind': size.kind,
      'data-at': places([x, y]),
      ...data,
    },
    guide,
    element('path', { class: 'tips', d: tip(1) + tip(-1) }),
    element('circle', { class: 'knob', cx: x, cy: y, r: RADIUS }),
  );
}

function line(from: Point, to: Point, name = ''): string {
  return element('path', { class: `guide ${name}`.trim(), d: `M${places(from)}L${places(to)}` });
}

const places = (point: Point): string => point.map(coordinate).join(' ');
/** Vectors in canvas units per mm or rad need more digits than places. */
const precise = (value: number): string => String(Number(value.toPrecision(8)));
const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
