/**
 * A span: wire between two places where something holds it, as one superelement. It owns its mesh and its
 * state; how its ends are held is another layer's business (end-conditions.ts).
 *
 * Frame: the section frame at the span's start; the start is the origin. Unknowns of a span are its internal moment
 * about the origin and its internal force, u = (m₀, n), N mm and N: what the wire ahead exerts on the wire behind.
 * They are constant but for supports along the span, at which they jump. Node poses are unknowns too, condensed
 * while integrating (lifted shooting): Δpose = Y Δu + y, six columns Y and one column y.
 */

import type { Compliance } from './compliance';
import { createLooseSweep, type LooseSweep } from './loose-sweep';
import type { Mesh } from './mesh';
import type { Piece } from './pieces';
import { layBeside, type Supports } from './supports/supports';

export interface Span {
  readonly mesh: Mesh;
  /** Of the design's own wire where it is straight. */
  readonly compliance: Compliance;
  /** Of each step. */
  readonly compliances: readonly Compliance[];
  /** Moment about the origin and force, 6 per segment between supports; the first at the start. */
  readonly u: Float64Array;
  /** Where the u of each step stands in `u`. */
  readonly segment: Int32Array;
  /** What else holds the wire along the span. */
  readonly supports: Supports | undefined;
  /** Rotation of each node as a quaternion (w, x, y, z), 4 per node. */
  readonly rotation: Float64Array;
  /** Position of each node, 3 per node. */
  readonly position: Float64Array;
  /** Columns at each node: 7 × (rotation, displacement), 42 per node. */
  readonly columns: Float64Array;
  /** Per node, what the step before it misses it by: (rotation, displacement), 6 per node. */
  readonly defect: Float64Array;
  /** Newton step of each node (rotation, displacement), 6 per node, and of `u`. */
  readonly movement: Float64Array;
  readonly change: Float64Array;
  /** The span lies, and is held, in the tangent-up plane of its start; it may leave that by buckling. */
  planar: boolean;
  /** Where nothing holds the span's start but its supports; its first step, of no length, bears nothing. */
  readonly loose: LooseSweep | undefined;
}

export const COLUMNS = 42;

export function createSpan(
  mesh: Mesh,
  compliance: Compliance,
  planar: boolean,
  supports?: Supports,
  loose = false,
  complianceOfPiece?: (piece: Piece) => Compliance,
): Span {
  const nodes = mesh.steps + 1;
  const segment = new Int32Array(mesh.steps);
  if (supports) divideAtSupports(segment, supports);
  const compliances = mesh.pieces.flatMap((piece, k) => {
    const own = complianceOfPiece ? complianceOfPiece(piece) : compliance;
    return Array.from({ length: mesh.firstStep[k + 1] - mesh.firstStep[k] }, () => own);
  });
  return {
    mesh,
    compliance,
    compliances,
    u: new Float64Array(6 * (1 + (supports?.nodes.length ?? 0))),
    segment,
    supports,
    rotation: new Float64Array(4 * nodes),
    position: new Float64Array(3 * nodes),
    columns: new Float64Array(COLUMNS * nodes),
    defect: new Float64Array(6 * nodes),
    movement: new Float64Array(6 * nodes),
    change: new Float64Array(6 * (1 + (supports?.nodes.length ?? 0))),
    planar,
    loose: loose ? createLooseSweep(mesh.steps) : undefined,
  };
}

/** Tells every step where the u of its segment stands. */
export function divideAtSupports(segment: Int32Array, { nodes }: Supports): void {
  segment.fill(0);
  for (const node of nodes) for (let i = node; i < segment.length; i++) segment[i] += 6;
}

/** Where the u that acts at a node stands in `u`: that of the step behind the node, at the end that of the last. */
export function forceAt(span: Span, node: number): number {
  return span.segment[Math.min(node, span.mesh.steps - 1)];
}

/** Puts every node where the unstressed wire has it. */
export function relax(span: Span): void {
  const { mesh, rotation, position, supports } = span;
  span.u.fill(0);
  if (supports) {
    supports.slid.fill(0);
    layBeside(supports, mesh);
  }
  rotation.fill(0, 0, 4);
  rotation[0] = 1;
  position.fill(0, 0, 3);
  for (let i = 0; i < mesh.steps; i++) {
    const w = rotation[4 * i];
    const x = rotation[4 * i + 1];
    const y = rotation[4 * i + 2];
    const z = rotation[4 * i + 3];
    const ew = mesh.turn[4 * i];
    const ex = mesh.turn[4 * i + 1];
    const ey = mesh.turn[4 * i + 2];
    const ez = mesh.turn[4 * i + 3];
    rotation[4 * i + 4] = w * ew - x * ex - y * ey - z * ez;
    rotation[4 * i + 5] = w * ex + x * ew + y * ez - z * ey;
    rotation[4 * i + 6] = w * ey - x * ez + y * ew + z * ex;
    rotation[4 * i + 7] = w * ez + x * ey - y * ex + z * ew;
    const dx = mesh.displacement[6 * i + 3];
    const dy = mesh.displacement[6 * i + 4];
    const dz = mesh.displacement[6 * i + 5];
    const tx = 2 * (y * dz - z * dy);
    const ty = 2 * (z * dx - x * dz);
    const tz = 2 * (x * dy - y * dx);
    position[3 * i + 3] = position[3 * i] + dx + w * tx + y * tz - z * ty;
    position[3 * i + 4] = position[3 * i + 1] + dy + w * ty + z * tx - x * tz;
    position[3 * i + 5] = position[3 * i + 2] + dz + w * tz + x * ty - y * tx;
  }
}

/** Numbers of a stored state: u, then rotations, then positions, then where supports stand. */
export function stateSize(span: Span): number {
  return span.u.length + span.rotation.length + span.position.length + (span.supports?.slid.length ?? 0);
}

export function saveState(span: Span, into: Float64Array): void {
  const forces = span.u.length;
  into.set(span.u, 0);
  into.set(span.rotation, forces);
  into.set(span.position, forces + span.rotation.length);
  if (span.supports) into.set(span.supports.slid, forces + span.rotation.length + span.position.length);
}

export function restoreState(span: Span, from: Float64Array): void {
  const positions = span.u.length + span.rotation.length;
  span.u.set(from.subarray(0, span.u.length));
  span.rotation.set(from.subarray(span.u.length, positions));
  span.position.set(from.subarray(positions, positions + span.position.length));
  if (span.supports) {
    span.supports.slid.set(from.subarray(positions + span.position.length));
    layBeside(span.supports, span.mesh);
  }
}

/** Turns a node on the left by the rotation vector (x, y, z) and renormalises it. */
export function turnNode(rotation: Float64Array, at: number, x: number, y: number, z: number, angle2: number): void {
  let cosine: number;
  let sine: number;
  if (angle2 < 0.01) {
    cosine = 1 - (angle2 / 8) * (1 - angle2 / 48);
    sine = 0.5 - (angle2 / 48) * (1 - angle2 / 80);
  } else {
    const angle = Math.sqrt(angle2);
    cosine = Math.cos(angle / 2);
    sine = Math.sin(angle / 2) / angle;
  }
  const ex = sine * x;
  const ey = sine * y;
  const ez = sine * z;
  const qw = rotation[at];
  const qx = rotation[at + 1];
  const qy = rotation[at + 2];
  const qz = rotation[at + 3];
  const w = cosine * qw - ex * qx - ey * qy - ez * qz;
  const a = cosine * qx + ex * qw + ey * qz - ez * qy;
  const b = cosine * qy - ex * qz + ey * qw + ez * qx;
  const c = cosine * qz + ex * qy - ey * qx + ez * qw;
  const size = 1 / Math.sqrt(w * w + a * a + b * b + c * c);
  rotation[at] = w * size;
  rotation[at + 1] = a * size;
  rotation[at + 2] = b * size;
  rotation[at + 3] = c * size;
}
