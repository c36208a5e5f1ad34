/** The wire after each step of its bending plan, as small drawings: what is bent so far, and where the bend just made is. */
import type { WireElement } from '#core/design';
import { tableElements } from '#core/forming/bending-table';
import { centreline, poseAt } from '#core/geometry/centreline';
import { freeOutline } from '#core/geometry/outline';
import { relativeTo } from '#core/geometry/pose';
import { identityMatrix, type Vec3, zeroVector } from '#core/math/vector';
import type { BendingPlan } from '#model/bending/bending-plan';
import { element, polyline } from './svg';

export interface StepDrawing {
  /** The bend made last, counted from 0 along the wire. */
  readonly bend: number;
  /** In words. */
  readonly label: string;
  /** A complete `<svg>` element. */
  readonly svg: string;
}

/**
 * One drawing for each bend in the order of work, all to one scale. The wire is held at the reference from which the work
 * starts, and seen square to the plane in which its finished shape is largest.
 */
export function drawBendingSteps({ bends, exact, order }: BendingPlan): readonly StepDrawing[] {
  const [first] = order;
  if (first === undefined) return [];
  const pieces = tableElements(exact);
  const made = order.flatMap(({ bends: own }) => own);
  const shapes = made.map((_, count) => {
    const done = new Set(made.slice(0, count + 1));
    return shapeOf(
      pieces.map((piece, index) => (index % 2 === 1 && !done.has((index - 1) / 2) ? straightened(piece) : piece)),
      first.reference.station,
    );
  });
  const [right, up] = widestAxes(shapes.at(-1)!.points);
  const flat = shapes.map(({ points }) => points.map((point) => [point[right], -point[up]] as const));
  const box = boxOf(flat.flat());
  return made.map((bend, count) => {
    const piece = 2 * bend + 1;
    const place = shapes[count].middles[piece];
    const label = `Step ${count + 1} of ${bends.length}: bend ${bend + 1}`;
    return { bend, label, svg: draw(flat[count], [place[right], -place[up]], box, label) };
  });
}

function draw(
  points: readonly (readonly [number, number])[],
  [x, y]: readonly [number, number],
  { left, top, width, height }: Box,
  label: string,
): string {
  const scale = WIDTH / (width + 2 * MARGIN);
  const at = ([px, py]: readonly [number, number]): readonly [number, number] => [
    (px - left + MARGIN) * scale,
    (py - top + MARGIN) * scale,
  ];
  const tall = (height + 2 * MARGIN) * scale;
  const [cx, cy] = at([x, y]);
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'springwright-drawing bending-step',
      viewBox: `0 0 ${WIDTH} ${Math.ceil(tall)}`,
      role: 'img',
      'aria-label': label,
    },
    element(
      'g',
      { class: 'wire engaged', fill: 'none', 'stroke-linejoin': 'round' },
      element('path', { class: 'body', d: polyline(points.map(at)), 'stroke-width': 2 }),
    ),
    element('circle', { class: 'rule', cx, cy, r: 7 }),
  );
}

interface Shape {
  readonly points: readonly Vec3[];
  /** Of every piece. */
  readonly middles: readonly Vec3[];
}

/** As seen from the wire's frame at a station. */
function shapeOf(pieces: readonly WireElement[], held: number): Shape {
  const line = centreline(pieces, { position: zeroVector, axes: identityMatrix }, 0);
  const base = poseAt(line, held);
  const seen = (position: Vec3): Vec3 => relativeTo(base, { position, axes: identityMatrix }).position;
  const { points } = freeOutline(line);
  return {
    points: Array.from({ length: points.length / 3 }, (_, k) =>
      seen([points[3 * k], points[3 * k + 1], points[3 * k + 2]]),
    ),
    middles: pieces.map(({ length }, k) => seen(poseAt(line, line.stations[k] + length / 2).position)),
  };
}

/** The two of the frame's axes along which a shape is largest; running direction or up first. */
function widestAxes(points: readonly Vec3[]): readonly [0 | 1 | 2, 0 | 1 | 2] {
  const sizes = [0, 1, 2].map((k) => Math.max(...points.map((p) => p[k])) - Math.min(...points.map((p) => p[k])));
  const least = sizes.indexOf(Math.min(...sizes));
  if (least === 0) return [2, 1];
  // Of a wire that lies in one line, the side view.
  return least === 1 && sizes[2] > sizes[1] ? [0, 2] : [0, 1];
}

interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

function boxOf(points: readonly (readonly [number, number])[]): Box {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  return { left, top, width: Math.max(...xs) - left, height: Math.max(...ys) - top };
}

function straightened({ length }: WireElement): WireElement {
  return { length, shape: zeroVector, preactivation: zeroVector };
}

/** Canvas units; mm round the wire. */
const WIDTH = 240;
const MARGIN = 6;
