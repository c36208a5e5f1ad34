/** Swept 20-node bricks along the free wire between two attachments, from the input record. */
import type { ApplianceDesign } from '#core/design';
import { add, apply, scale, type Vector } from '../../oracle/rotation';
import { layOut, type Piece, type Place, piecesBetween, turnOf } from '../../oracle/wire-line';

export interface MeshSize {
  /** Longest brick along the wire, mm, and the largest angle one brick turns through, rad. */
  readonly longest: number;
  readonly turn: number;
  /** Bricks across the section's height and width. */
  readonly high: number;
  readonly wide: number;
}

export interface SweptMesh {
  /** Coordinates of node k + 1. */
  readonly nodes: readonly Vector[];
  /** Twenty node numbers per brick, in CalculiX's order for C3D20R. */
  readonly bricks: readonly (readonly number[])[];
  /** Node numbers of the two end faces. */
  readonly firstFace: readonly number[];
  readonly lastFace: readonly number[];
  readonly places: readonly Place[];
  readonly pieces: readonly Piece[];
}

/** Bricks over the wire from station `from` to `to`, the passive shape laid out from a first place. Bends need a radius. */
export function sweep(design: ApplianceDesign, from: number, to: number, first: Place, size: MeshSize): SweptMesh {
  const { section } = design;
  if (section.kind !== 'rectangle' || section.cornerRadius > 0) {
    throw new Error('the swept mesh is written for sharp-cornered rectangular wire');
  }
  const pieces = piecesBetween(design, from, to, size.longest, size.turn);
  if (pieces.some((piece) => piece.length === 0)) throw new Error('a sharp corner cannot be swept');
  const halves = pieces.flatMap((piece) => {
    const half = {
      length: piece.length / 2,
      shape: scale(piece.shape, 0.5),
      preactivation: scale(piece.preactivation, 0.5),
    };
    return [half, half];
  });
  const places = layOut(halves, first, 1);

  // Half-step grid over the section; a node exists where at most one of the three half-step indices is odd.
  const nodes: Vector[] = [];
  const numbers = new Map<string, number>();
  const key = (k: number, i: number, j: number) => `${k},${i},${j}`;
  for (let k = 0; k < places.length; k++) {
    for (let i = 0; i <= 2 * size.high; i++) {
      for (let j = 0; j <= 2 * size.wide; j++) {
        if ((k % 2) + (i % 2) + (j % 2) > 1) continue;
        const up = (i / (2 * size.high) - 0.5) * section.height;
        const side = (j / (2 * size.wide) - 0.5) * section.width;
        nodes.push(add(places[k].position, apply(places[k].axes, [0, up, side])));
        numbers.set(key(k, i, j), nodes.length);
      }
    }
  }
  const bricks: number[][] = [];
  for (let k = 0; k < places.length - 1; k += 2) {
    for (let i = 0; i < 2 * size.high; i += 2) {
      for (let j = 0; j < 2 * size.wide; j += 2) {
        bricks.push(brickOrder.map(([dk, di, dj]) => numbers.get(key(k + dk, i + di, j + dj))!));
      }
    }
  }
  const face = (k: number) => [...numbers].filter(([name]) => name.startsWith(`${k},`)).map(([, number]) => number);
  return { nodes, bricks, firstFace: face(0), lastFace: face(places.length - 1), places, pieces };
}

/** End place of the wire with its preactivation scaled by `amount`, seen from the same first place. */
export function endPlace(pieces: readonly Piece[], first: Place, amount: number): Place {
  const places = layOut(
    pieces.map((piece) => ({ ...piece, shape: turnOf(piece, amount), preactivation: [0, 0, 0] })),
    first,
    0,
  );
  return places[places.length - 1];
}

/** Offsets (along, up, side) in half bricks: corners of the near and far face, then the edges' middles. */
const brickOrder = [
  [0, 0, 0],
  [0, 2, 0],
  [0, 2, 2],
  [0, 0, 2],
  [2, 0, 0],
  [2, 2, 0],
  [2, 2, 2],
  [2, 0, 2],
  [0, 1, 0],
  [0, 2, 1],
  [0, 1, 2],
  [0, 0, 1],
  [2, 1, 0],
  [2, 2, 1],
  [2, 1, 2],
  [2, 0, 1],
  [1, 0, 0],
  [1, 2, 0],
  [1, 2, 2],
  [1, 0, 2],
] as const;
