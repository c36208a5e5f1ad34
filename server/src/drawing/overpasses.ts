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
  const found: Overpass[] = [];
  let from = -1;
  for (let index = 0; index <= points.length; index++) {
    const over = index < points.length && passesOver(index, points, stations, reach, apart, behind);
    if (over && from < 0) from = index;
    if (!over && from >= 0) {
      const to = index - 1;
      if (to > from) found.push({ from, to, nearness: points[(from + to) >> 1].nearness });
      from = -1;
    }
  }
  return found.sort((a, b) => a.nearness - b.nearness);
}

function passesOver(
  index: number,
  points: readonly Projected[],
  stations: readonly number[],
  reach: number,
  apart: number,
  behind: number,
): boolean {
  const here = points[index];
  for (let other = 0; other < points.length; other++) {
    const there = points[other];
    if (here.nearness - there.nearness <= behind) continue;
    const dx = there.x - here.x;
    const dy = there.y - here.y;
    if (dx * dx + dy * dy < reach * reach && Math.abs(stations[other] - stations[index]) > apart) return true;
  }
  return false;
}
