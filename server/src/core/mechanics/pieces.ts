/** The wire between two held stations as a list of pieces of constant curvature, in the direction in which it is integrated. */
import type { Forming, Stock, WireElement } from '../design';
import { SAME_STATION } from '../geometry/centreline';
import { norm, scale, type Vec3, zeroVector } from '../math/vector';

export interface Turn {
  readonly shape: Vec3;
  readonly preactivation: Vec3;
}

export interface Piece extends Turn {
  readonly length: number;
  /** What it is made of, where that is another wire than the design's own. */
  readonly stock?: Stock;
  /** How it was bent, where that left stress in it. */
  readonly forming?: Forming;
  /** Sharp corners at its start, in order. */
  readonly corners: readonly Turn[];
}

/**
 * Pieces between stations `from` < `to`. Adjacent straight pieces are one. `reversed` runs the wire from `to`
 * to `from`, its section frame turned half round about its up axis so that the tangent points ahead.
 */
export function piecesBetween(
  elements: readonly WireElement[],
  from: number,
  to: number,
  reversed: boolean,
): readonly Piece[] {
  const pieces: Piece[] = [];
  let corners: Turn[] = [];
  for (const element of reversed ? clip(elements, from, to).reverse() : clip(elements, from, to)) {
    const turn = reversed ? turnReversed(element) : element;
    if (element.length === 0) {
      corners.push(turn);
      continue;
    }
    const previous = pieces[pieces.length - 1];
    if (
      previous &&
      corners.length === 0 &&
      isStraight(previous) &&
      isStraight(element) &&
      previous.stock === element.stock
    ) {
      pieces[pieces.length - 1] = { ...previous, length: previous.length + element.length };
    } else {
      const { length, stock, forming } = element;
      pieces.push({
        length,
        shape: turn.shape,
        preactivation: turn.preactivation,
        corners,
        ...(stock && { stock }),
        ...(forming && { forming }),
      });
      corners = [];
    }
  }
  if (corners.length > 0 || pieces.length === 0) pieces.push({ ...straightPiece, corners });
  return pieces;
}

export function isStraight(turn: Turn): boolean {
  return norm(turn.shape) < NO_TURN && norm(turn.preactivation) < NO_TURN;
}

export const straightPiece: Piece = { length: 0, shape: zeroVector, preactivation: zeroVector, corners: [] };

/** Turns below this, in rad, are rounding. */
const NO_TURN = 1e-12;

function clip(elements: readonly WireElement[], from: number, to: number): WireElement[] {
  const inside: WireElement[] = [];
  let station = 0;
  for (const element of elements) {
    const end = station + element.length;
    if (element.length === 0) {
      if (station >= from - SAME_STATION && station <= to + SAME_STATION) inside.push(element);
    } else {
      const length = Math.min(end, to) - Math.max(station, from);
      if (length > SAME_STATION) {
        const share = length / element.length;
        inside.push({
          ...element,
          length,
          shape: scale(element.shape, share),
          preactivation: scale(element.preactivation, share),
        });
      }
    }
    station = end;
  }
  return inside;
}

/** Body curvature seen from the frame turned half round about up, running backwards. */
function turnReversed(turn: Turn): Turn {
  const reverse = ([twist, up, side]: Vec3): Vec3 => [twist, -up, side];
  return { shape: reverse(turn.shape), preactivation: reverse(turn.preactivation) };
}
