/** Where a wire passes in front of another piece of itself, as seen in one view. */
import type { Projected } from './view';

export interface Overpass {
  /** Index range of the nearer piece's points, last inclusive. */
  readonly from: number;
  readonly to: number;
  readonly nearness: number;
}

/**
 * Pieces of a finely sampled wire that lie in front of another piece, ordered from the farther to the nearer, so that
 * drawing them in this order over the whole wire shows every crossing right.
 *
 * @param points  the wire on the canvas
 * @param stations  stations of the points, mm
 * @param reach  centre distance on the canvas up to which two pieces count as crossing
 * @param apart  least distance along the wire of two pieces that can cross, mm
 * @param behind  least difference in nearness, mm
 */
export function overpasses(
  points: readonly Projected[],
  stations: readonly number[],
  reach: number,
  apart: number,
  behind: number,
): readonly Overpass[] {
  const near = pointsNear(points, reach);
  const farthest = points.reduce((least, { nearness }) => Math.min(least, nearness), Number.POSITIVE_INFINITY);
  const passesOver = (index: number): boolean => {
    const here = points[index];
    if (here.nearness - farthest <= behind) return false;
    for (const other of near(here)) {
      const there = points[other];
      if (here.nearness - there.nearness <= behind) continue;
      const dx = there.x - here.x;
      const dy = there.y - here.y;
      if (dx * dx + dy * dy < reach * reach && Math.abs(stations[other] - stations[index]) > apart) return true;
    }
    return false;
  };
  const found: Overpass[] = [];
  let from = -1;
  for (let index = 0; index <= points.length; index++) {
    const over = index < points.length && passesOver(index);
    if (over && from < 0) from = index;
    if (!over && from >= 0) {
      const to = index - 1;
      if (to > from) found.push({ from, to, nearness: points[(from + to) >> 1].nearness });
      from = -1;
    }
  }
  return found.sort((a, b) => a.nearness - b.nearness);
}

/** Indices of the points that may lie within reach of one: those in its square of the canvas and the eight around it. */
function pointsNear(points: readonly Projected[], reach: number): (point: Projected) => readonly number[] {
  const squareOf = ({ x, y }: Projected): number => Math.floor(x / reach) * rows + Math.floor(y / reach);
  const squares = new Map<number, number[]>();
  for (const [index, point] of points.entries()) {
    const square = squareOf(point);
    const listed = squares.get(square);
    if (listed) listed.push(index);
    else squares.set(square, [index]);
  }
  const known = new Map<number, number[]>();
  return (point) => {
    const square = squareOf(point);
    let near = known.get(square);
    if (near === undefined) {
      const around = [-rows, 0, rows].flatMap((column) => [square + column - 1, square + column, square + column + 1]);
      near = around.flatMap((one) => squares.get(one) ?? []);
      known.set(square, near);
    }
    return near;
  };
}

/** More than any canvas has. */
const rows = 1 << 14;
