/** Whether a span lies in a plane, freed of the rounding that would hide it. */
import type { Pose } from '../design';
import type { Vec3 } from '../math/vector';
import type { Piece, Turn } from './pieces';

/** The pieces with turns about the side axis only; undefined where they leave the tangent-up plane. */
export function planarPieces(pieces: readonly Piece[]): readonly Piece[] | undefined {
  const inPlane = (turn: Turn) => isSideways(turn.shape) && isSideways(turn.preactivation);
  if (!pieces.every((piece) => inPlane(piece) && piece.corners.every(inPlane))) return undefined;
  return pieces.map((piece) => ({ ...piece, ...planarTurn(piece), corners: piece.corners.map(planarTurn) }));
}

/** The pose with its side axis exactly along z, in the plane z = 0; undefined where it is another. */
export function planarPose({ position, axes }: Pose): Pose | undefined {
  const out = Math.abs(axes[2]) + Math.abs(axes[5]) + Math.abs(axes[6]) + Math.abs(axes[7]) + Math.abs(position[2]);
  if (out > ROUNDING || axes[8] < 0) return undefined;
  const size = Math.hypot(axes[0], axes[3]);
  const cosine = axes[0] / size;
  const sine = axes[3] / size;
  return { position: [position[0], position[1], 0], axes: [cosine, -sine, 0, sine, cosine, 0, 0, 0, 1] };
}

/** Far below any bend or size, far above what rotations leave behind. */
export const ROUNDING = 1e-11;

function isSideways([twist, up]: Vec3): boolean {
  return Math.abs(twist) + Math.abs(up) < ROUNDING;
}

function planarTurn({ shape, preactivation }: Turn): Turn {
  return { shape: [0, 0, shape[2]], preactivation: [0, 0, preactivation[2]] };
}
