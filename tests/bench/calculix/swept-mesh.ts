/** Swept 20-node bricks along the free wire between two attachments, from the input record. */
import type { ApplianceDesign } from '#core/design';
import { add, apply, scale, type Vector } from '../../oracle/rotation';
import { layOut, type Piece, type Place, piecesBetween, turnOf } from '../../oracle/wire-line';
import { type SectionMesh, sectionMesh } from './section-mesh';

export interface MeshSize {
  /** Longest brick along the wire, mm, and the largest angle one brick turns through, rad. */
  readonly longest: number;
  readonly turn: number;
  /** Longest brick, mm, in the first and last 1.5 mm of a span, where a clamped wire yields most; `longest` where not given. */
  readonly atEnds?: number;
  /** Bricks across the section's height (even) and width. */
  readonly high: number;
  readonly wide: number;
}

/** An end face: its nodes, in the order of the section mesh's points, and the one in its middle. */
export interface Face {
  readonly nodes: readonly number[];
  readonly centre: number;
}

export interface SweptMesh {
  /** Coordinates of node k + 1 + the first number given. */
  readonly nodes: readonly Vector[];
  /** Twenty node numbers per brick, in CalculiX's order for C3D20R. */
  readonly bricks: readonly (readonly number[])[];
  readonly section: SectionMesh;
  readonly first: Face;
  readonly last: Face;
  readonly places: readonly Place[];
  readonly pieces: readonly Piece[];
}

/**
 * Bricks over the wire from station `from` to `to`, the passive shape laid out from a first place; nodes are numbered
 * from `numberFrom` + 1. Bends need a radius.
 */
export function sweep(
  design: ApplianceDesign,
  from: number,
  to: number,
  first: Place,
  size: MeshSize,
  numberFrom: number,
): SweptMesh {
  const { longest, turn, atEnds } = size;
  const zone = atEnds === undefined ? 0 : END_ZONE;
  const pieces = [
    ...piecesBetween(design, from, from + zone, atEnds ?? longest, turn),
    ...piecesBetween(design, from + zone, to - zone, longest, turn),
    ...piecesBetween(design, to - zone, to, atEnds ?? longest, turn),
  ];
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
  const section = sectionMesh(design.section, size.high, size.wide);

  // All points of the section at the ends of a brick, its corners half way.
  const nodes: Vector[] = [];
  const numbers = places.map(({ position, axes }, k) =>
    section.points.map(([up, side], i) => {
      if (k % 2 === 1 && !section.corners[i]) return 0;
      nodes.push(add(position, apply(axes, [0, up, side])));
      return numberFrom + nodes.length;
    }),
  );
  const bricks: number[][] = [];
  for (let k = 0; k < places.length - 1; k += 2) {
    const [near, middle, far] = [numbers[k], numbers[k + 1], numbers[k + 2]];
    for (const quad of section.quads) {
      const [corners, edges] = [quad.slice(0, 4), quad.slice(4)];
      bricks.push([
        ...corners.map((i) => near[i]),
        ...corners.map((i) => far[i]),
        ...edges.map((i) => near[i]),
        ...edges.map((i) => far[i]),
        ...corners.map((i) => middle[i]),
      ]);
    }
  }
  const middle = section.points.findIndex(([up, side]) => Math.hypot(up, side) < 1e-9);
  if (middle < 0) throw new Error('the section mesh has no point in its middle');
  const face = (k: number): Face => ({ nodes: numbers[k], centre: numbers[k][middle] });
  return { nodes, bricks, section, first: face(0), last: face(places.length - 1), places, pieces };
}

/** mm */
const END_ZONE = 1.5;

/** End place of the wire with its preactivation scaled by `amount`, seen from the same first place. */
export function endPlace(pieces: readonly Piece[], first: Place, amount: number): Place {
  const places = layOut(
    pieces.map((piece) => ({ ...piece, shape: turnOf(piece, amount), preactivation: [0, 0, 0] })),
    first,
    0,
  );
  return places[places.length - 1];
}
