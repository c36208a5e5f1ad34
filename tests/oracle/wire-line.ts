/**
 * The free wire between two attachments as the oracle sees it: cut from the input record alone, with a
 * fine subdivision, each piece with its intrinsic turn in shape and in preactivation.
 */
import type { ApplianceDesign } from '#core/design';
import { add, apply, identity, type Matrix, multiply, rotation, scale, type Vector } from './rotation';

/** A straight or evenly curved piece of the free wire, or (length 0) a sharp corner. */
export interface Piece {
  readonly length: number;
  readonly shape: Vector;
  readonly preactivation: Vector;
}

export interface Place {
  readonly position: Vector;
  readonly axes: Matrix;
}

/** The pieces between two stations, none longer than `longest` mm nor turning more than `turn` rad. */
export function piecesBetween(
  design: ApplianceDesign,
  from: number,
  to: number,
  longest: number,
  turn: number,
): Piece[] {
  const pieces: Piece[] = [];
  let station = 0;
  for (const element of design.elements) {
    const start = Math.max(from, station);
    const end = Math.min(to, station + element.length);
    if (element.length === 0) {
      if (station > from && station < to)
        pieces.push({ length: 0, shape: element.shape, preactivation: element.preactivation });
    } else if (end - start > 1e-12) {
      const share = (end - start) / element.length;
      const angle = Math.max(Math.hypot(...element.shape), Math.hypot(...element.preactivation)) * share;
      const count = Math.max(1, Math.ceil((end - start) / longest), Math.ceil(angle / turn));
      const piece = {
        length: (end - start) / count,
        shape: scale(element.shape, share / count),
        preactivation: scale(element.preactivation, share / count),
      };
      for (let i = 0; i < count; i++) pieces.push(piece);
    }
    station += element.length;
  }
  return pieces;
}

/** Turn of a piece with its preactivation scaled by `amount` (0 nominal, 1 passive). */
export function turnOf(piece: Piece, amount: number): number[] {
  return add(piece.shape, scale(piece.preactivation, amount));
}

/** Where a piece of constant curvature ends, seen from its start; by the closed form of the helix. */
export function chordOf(length: number, turn: Vector): number[] {
  const angle = Math.hypot(...turn);
  if (angle < 1e-9) return [length, turn[2] * (length / 2), -turn[1] * (length / 2)];
  const axis = scale(turn, 1 / angle);
  const along = axis[0];
  // ∫ exp(s [turn]) e1 ds = L (sin/θ e1 + (1 - cos)/θ (axis × e1) + (1 - sin/θ) axis (axis · e1))
  const sine = Math.sin(angle) / angle;
  const cosine = (1 - Math.cos(angle)) / angle;
  return [
    length * (sine + (1 - sine) * along * axis[0]),
    length * (cosine * axis[2] + (1 - sine) * along * axis[1]),
    length * (-cosine * axis[1] + (1 - sine) * along * axis[2]),
  ];
}

/** Places of the wire at the ends of the pieces, from a first place; `amount` scales preactivation. */
export function layOut(pieces: readonly Piece[], first: Place, amount: number): Place[] {
  const places = [first];
  for (const piece of pieces) {
    const { position, axes } = places[places.length - 1];
    const turn = turnOf(piece, amount);
    places.push({
      position: piece.length === 0 ? position : add(position, apply(axes, chordOf(piece.length, turn))),
      axes: multiply(axes, rotation(turn)),
    });
  }
  return places;
}

/** Place of the nominal wire at a station. */
export function nominalPlace(design: ApplianceDesign, station: number): Place {
  const start = { position: design.start.position, axes: design.start.axes };
  if (station <= 0) return start;
  const places = layOut(piecesBetween(design, -1, station, Infinity, Infinity), start, 0);
  return places[places.length - 1];
}

export const worldPlace: Place = { position: [0, 0, 0], axes: identity };
