/** Numbers on the wires that are laid over another, where there are several: each where its line lies farthest from all others. */
import type { Outline } from '#core/analysis/analysis';
import { text } from './furniture';
import type { Obstacle } from './labels';
import type { SceneShape } from './scene';
import { element } from './svg';
import { type Projection, project } from './view';

export interface DrawnNumbers {
  readonly svg: string;
  readonly obstacles: readonly Obstacle[];
}

type Point = readonly [number, number];

const RADIUS = 8;
/** Places looked at along a wire. */
const PLACES = 60;

export function drawLineNumbers(shapes: readonly SceneShape[], projection: Projection): DrawnNumbers {
  const lines = shapes.map(({ outline, compared }) => ({ compared, points: placesAlong(outline, projection) }));
  const taken: Point[] = [];
  const discs = lines.flatMap(({ compared, points }, k) => {
    if (!compared || points.length === 0) return [];
    const others = [...lines.flatMap((line, other) => (other === k ? [] : line.points)), ...taken];
    const [first, ...rest] = points.map((point) => ({
      point,
      clear: Math.min(...others.map((one) => apart(one, point))),
    }));
    const { point } = rest.reduce((best, one) => (one.clear > best.clear ? one : best), first);
    taken.push(point);
    return [{ number: compared.number, point }];
  });
  return {
    svg: element(
      'g',
      { class: 'numbers' },
      ...discs.map(({ number, point: [x, y] }) =>
        element(
          'g',
          { class: 'number' },
          element('circle', { cx: x, cy: y, r: RADIUS }),
          text(x, y + 4, String(number), undefined, 'middle'),
        ),
      ),
    ),
    obstacles: discs.map(({ point: [x, y] }) => ({ x, y, radius: RADIUS + 2 })),
  };
}

function placesAlong({ stations, points }: Outline, projection: Projection): Point[] {
  const stride = Math.max(1, Math.floor(stations.length / PLACES));
  return stations.flatMap((_, k): Point[] => {
    if (k % stride !== 0) return [];
    const { x, y } = project(projection, [points[3 * k], points[3 * k + 1], points[3 * k + 2]]);
    return [[x, y]];
  });
}

const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
