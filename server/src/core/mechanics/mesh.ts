/**
 * Mesh of a span: steps of constant intrinsic curvature, with the exact intrinsic rotation and displacement
 * of each step at its start, middle and end.
 */
import { arcDisplacement, rotationMatrix } from '../math/rotation';
import { addScaled, apply, identityMatrix, type Mat3, multiply, norm, scale, type Vec3 } from '../math/vector';
import { isStraight, type Piece, straightPiece } from './pieces';

export interface MeshRule {
  /** Largest intrinsic turn of a step, rad. */
  readonly turn: number;
  /** Longest step, mm. */
  readonly length: number;
  /** Largest elastic rotation of a step, rad; steps beyond it are split. */
  readonly elastic: number;
}

/**
 * On 150 random loops in space, 99 % of the curves were right to 1e-4 of their largest force and moment (median 1e-5)
 * with the default mesh, to 3e-5 (median 3e-6) with the strict one.
 */
export const defaultMesh: MeshRule = { turn: Math.PI / 6, length: 1, elastic: 0.3 };
export const strictMesh: MeshRule = { turn: Math.PI / 8, length: 0.75, elastic: 0.15 };

export interface Mesh {
  readonly pieces: readonly Piece[];
  /** First step of each piece, and the number of steps at the end. */
  readonly firstStep: readonly number[];
  readonly steps: number;
  /** Pieces put before those given, for an arm at the start. */
  readonly added: number;
  /** Whether the first or last piece is straight wire that the motion draws into or out of the span. */
  readonly startArm: boolean;
  readonly endArm: boolean;
  /** Length of each step, mm. */
  readonly h: Float64Array;
  /** The same while no wire has slid past what supports it (supports/sliding-nodes.ts). */
  readonly ownLength: Float64Array;
  /** Intrinsic rotation over each step as a quaternion (w, x, y, z), corners at its start included. */
  readonly turn: Float64Array;
  /** Per step, at start, middle and end: tangent and side axis, in the frame of the node before it (18 numbers). */
  readonly axes: Float64Array;
  /** Per step, at middle and end: intrinsic displacement in that frame, mm (6 numbers). */
  readonly displacement: Float64Array;
}

/** Wire, mm, that an arm is meshed to take in beyond its own length: the neutral position often pays in some. */
const ARM_RESERVE = 2;

/** `splits[k]` further halvings of piece k, from an earlier solution on a coarser mesh. */
export function createMesh(
  given: readonly Piece[],
  rule: MeshRule,
  arms: { readonly start: boolean; readonly end: boolean },
  splits: readonly number[] = [],
): Mesh {
  const pieces = [...given];
  const added = arms.start && !(isStraight(pieces[0]) && pieces[0].corners.length === 0) ? 1 : 0;
  if (added > 0) pieces.unshift(straightPiece);
  if (arms.end && !isStraight(pieces[pieces.length - 1])) pieces.push(straightPiece);
  if (arms.start && arms.end && pieces.length === 1) {
    // Each end has its own arm to be drawn out of.
    const half = { ...pieces[0], length: pieces[0].length / 2 };
    pieces.splice(0, 1, half, half);
  }
  const firstStep = [0];
  for (const [k, piece] of pieces.entries()) {
    const turn = norm(piece.shape) + norm(piece.preactivation);
    const arm = (arms.start && k === 0) || (arms.end && k === pieces.length - 1);
    const length = arm ? piece.length + ARM_RESERVE : piece.length;
    const count = Math.max(1, Math.ceil(Math.max(length / rule.length, turn / rule.turn) - 1e-9));
    firstStep.push(firstStep[k] + count * 2 ** (splits[k] ?? 0));
  }
  const steps = firstStep[pieces.length];
  return {
    pieces,
    firstStep,
    steps,
    added,
    startArm: arms.start,
    endArm: arms.end,
    h: new Float64Array(steps),
    ownLength: new Float64Array(steps),
    turn: new Float64Array(4 * steps),
    axes: new Float64Array(18 * steps),
    displacement: new Float64Array(6 * steps),
  };
}

/** Gives the mesh its intrinsic shape: all shape bends and the given share of the preactivation. */
export function shapeMesh(mesh: Mesh, preactivation: number): void {
  for (let k = 0; k < mesh.pieces.length; k++) {
    const piece = mesh.pieces[k];
    const count = mesh.firstStep[k + 1] - mesh.firstStep[k];
    const length = piece.length / count;
    const turn = scale(addScaled(piece.shape, piece.preactivation, preactivation), 1 / count);
    let corner = identityMatrix;
    for (const c of piece.corners) {
      corner = multiply(corner, rotationMatrix(addScaled(c.shape, c.preactivation, preactivation)));
    }
    shapeStep(mesh, mesh.firstStep[k], corner, turn, length);
    if (count === 1) continue;
    const next = mesh.firstStep[k] + 1;
    if (piece.corners.length > 0) shapeStep(mesh, next, identityMatrix, turn, length);
    else copyStep(mesh, mesh.firstStep[k], next);
    for (let i = next + 1; i < mesh.firstStep[k + 1]; i++) copyStep(mesh, next, i);
  }
}

/** Sets the length of the straight arm at the start or end of the span, mm. */
export function setArm(mesh: Mesh, end: 'start' | 'end', length: number): void {
  const k = end === 'start' ? 0 : mesh.pieces.length - 1;
  const count = mesh.firstStep[k + 1] - mesh.firstStep[k];
  const h = length / count;
  for (let i = mesh.firstStep[k]; i < mesh.firstStep[k + 1]; i++) {
    mesh.ownLength[i] = h;
    setStraightStep(mesh, i, h);
  }
}

/** Sets the length of a straight step, mm. */
export function setStraightStep({ h, axes, displacement }: Mesh, i: number, length: number): void {
  h[i] = length;
  for (let c = 0; c < 3; c++) {
    const along = axes[18 * i + c] * length;
    displacement[6 * i + c] = along / 2;
    displacement[6 * i + 3 + c] = along;
  }
}

/** Length of wire in the span without an arm's share, and of the arms, mm. */
export function armLength(mesh: Mesh, end: 'start' | 'end'): number {
  return mesh.pieces[end === 'start' ? 0 : mesh.pieces.length - 1].length;
}

function shapeStep(mesh: Mesh, i: number, corner: Mat3, turn: Vec3, length: number): void {
  mesh.h[i] = mesh.ownLength[i] = length;
  const half = rotationMatrix(scale(turn, 0.5));
  const middle = multiply(corner, half);
  const end = multiply(middle, half);
  writeAxes(mesh.axes, 18 * i, corner);
  writeAxes(mesh.axes, 18 * i + 6, middle);
  writeAxes(mesh.axes, 18 * i + 12, end);
  writeVector(mesh.displacement, 6 * i, apply(corner, arcDisplacement(scale(turn, 0.5), length / 2)));
  writeVector(mesh.displacement, 6 * i + 3, apply(corner, arcDisplacement(turn, length)));
  writeQuaternion(mesh.turn, 4 * i, end);
}

function copyStep(mesh: Mesh, from: number, to: number): void {
  mesh.h[to] = mesh.ownLength[to] = mesh.h[from];
  mesh.turn.copyWithin(4 * to, 4 * from, 4 * from + 4);
  mesh.axes.copyWithin(18 * to, 18 * from, 18 * from + 18);
  mesh.displacement.copyWithin(6 * to, 6 * from, 6 * from + 6);
}

function writeAxes(into: Float64Array, at: number, m: Mat3): void {
  into[at] = m[0];
  into[at + 1] = m[3];
  into[at + 2] = m[6];
  into[at + 3] = m[2];
  into[at + 4] = m[5];
  into[at + 5] = m[8];
}

function writeVector(into: Float64Array, at: number, v: Vec3): void {
  into[at] = v[0];
  into[at + 1] = v[1];
  into[at + 2] = v[2];
}

/** Quaternion of a rotation matrix by its largest component, so that it is accurate for every angle. */
export function writeQuaternion(into: Float64Array, at: number, m: Mat3): void {
  const trace = m[0] + m[4] + m[8];
  let w: number;
  let x: number;
  let y: number;
  let z: number;
  if (trace > 0) {
    w = 1 + trace;
    x = m[7] - m[5];
    y = m[2] - m[6];
    z = m[3] - m[1];
  } else if (m[0] >= m[4] && m[0] >= m[8]) {
    w = m[7] - m[5];
    x = 1 + m[0] - m[4] - m[8];
    y = m[1] + m[3];
    z = m[2] + m[6];
  } else if (m[4] >= m[8]) {
    w = m[2] - m[6];
    x = m[1] + m[3];
    y = 1 - m[0] + m[4] - m[8];
    z = m[5] + m[7];
  } else {
    w = m[3] - m[1];
    x = m[2] + m[6];
    y = m[5] + m[7];
    z = 1 - m[0] - m[4] + m[8];
  }
  const size = Math.sqrt(w * w + x * x + y * y + z * z);
  into[at] = w / size;
  into[at + 1] = x / size;
  into[at + 2] = y / size;
  into[at + 3] = z / size;
}
