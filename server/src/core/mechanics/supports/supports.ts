/**
 * Supports along a span: something that answers a movement x = (rotation, displacement) of a node with a wrench on
 * the wire. Across one, u jumps by that wrench (moment about the origin, force): ahead + wrench - behind = 0. The
 * sweep takes a support in by one small system, so that any number of them costs little and nothing else changes.
 */
import { factorise, solveFactorised } from '../../math/dense';
import { type Mesh, setStraightStep } from '../mesh';
import type { Span } from '../span';
import type { Gap } from './interior-point';

export interface Supports {
  /** Nodes, rising, none of them an end of the span. */
  readonly nodes: Int32Array;
  /** How far along the wire each support stands from its own place in it, mm (sliding-nodes.ts), and its node from there without sliding. */
  readonly slid: Float64Array;
  readonly offset: Float64Array;
  /**
   * Per support, the nodes (2) between which the wire beside it becomes longer and shorter as its node goes along it, which is straight
   * there: its own node where there is no wire on that side to speak of. -1 for a node that stays at its place.
   */
  readonly reach: Int32Array;
  /** Per support K, 36 row-major: the wrench falls by K x. */
  readonly stiffness: Float64Array;
  /** Per support, the present wrench on the wire, 6. */
  readonly wrench: Float64Array;
  /** Per support, whether it turns the sign of the determinant of Y, in the last sweep: -1, else 1 (stability.ts). */
  readonly turns: Int8Array;
}

/** None where there are no nodes. */
export function createSupports(nodes: readonly number[]): Supports | undefined {
  const count = nodes.length;
  if (count === 0) return undefined;
  return {
    nodes: Int32Array.from(nodes),
    slid: new Float64Array(count),
    offset: new Float64Array(count),
    reach: new Int32Array(2 * count).fill(-1),
    stiffness: new Float64Array(36 * count),
    wrench: new Float64Array(6 * count),
    turns: new Int8Array(count),
  };
}

/** Gives the steps beside supports the lengths that go with where those stand. */
export function layBeside({ nodes, slid, offset, reach }: Supports, mesh: Mesh): void {
  const { h, ownLength } = mesh;
  for (let k = 0; k < nodes.length; k++) {
    for (let i = reach[2 * k]; i < reach[2 * k + 1]; i++) h[i] = ownLength[i];
  }
  for (let k = 0; k < nodes.length; k++) {
    const [from, to] = [reach[2 * k], reach[2 * k + 1]];
    if (from < 0) continue;
    const past = slid[k] - offset[k];
    for (let i = from; i < nodes[k]; i++) h[i] += past / (nodes[k] - from);
    for (let i = nodes[k]; i < to; i++) h[i] -= past / (to - nodes[k]);
  }
  for (let k = 0; k < nodes.length; k++) {
    for (let i = reach[2 * k]; i < reach[2 * k + 1]; i++) setStraightStep(mesh, i, h[i]);
  }
}

/** What a support of a span goes by. */
export interface SupportLaw {
  /** Which of the span's supports it is part of. */
  readonly support: number;
  /** Puts it where it stands for a share of preactivation and an amount of the activation's motion. */
  readonly place: (share: number, motion: number) => void;
  /**
   * Adds its wrench and stiffness, for the node as it stands, to those of support k of the span; true where it takes hold of
   * the wire, or lets go of it, other than before.
   */
  readonly hold: (span: Span, k: number) => boolean;
  /** How far ahead of the node, along the wire, it touches the wire, mm; none where it stays at its place in the wire. */
  readonly ahead?: (span: Span, k: number) => number;
  /** Gaps in which the wire has room at it. */
  readonly gaps: readonly Gap[];
  /** Sets a force, N, against the wire's sliding in the direction of integration. */
  readonly drag?: (force: number) => void;
}

/** Adds a force on the wire at support k's node to that support's wrench, with its moment about the span's start. */
export function pullAtNode(span: Span, k: number, fx: number, fy: number, fz: number): void {
  const { nodes, wrench } = span.supports!;
  const at = 3 * nodes[k];
  const x = span.position[at];
  const y = span.position[at + 1];
  const z = span.position[at + 2];
  const w = 6 * k;
  wrench[w] += y * fz - z * fy;
  wrench[w + 1] += z * fx - x * fz;
  wrench[w + 2] += x * fy - y * fx;
  wrench[w + 3] += fx;
  wrench[w + 4] += fy;
  wrench[w + 5] += fz;
}

/** Adds stiffness of surroundings that hold support k's node where it is: against turning, N mm, and against moving, N/mm. */
export function holdNode({ supports, position }: Span, k: number, turning: number, shifting: number): void {
  const { nodes, stiffness } = supports!;
  const s = 36 * k;
  const at = 3 * nodes[k];
  const x = shifting * position[at];
  const y = shifting * position[at + 1];
  const z = shifting * position[at + 2];
  for (let d = 0; d < 3; d++) {
    stiffness[s + 7 * d] += turning;
    stiffness[s + 21 + 7 * d] += shifting;
  }
  // The moment about the span's start of what holds it.
  stiffness[s + 4] -= z;
  stiffness[s + 5] += y;
  stiffness[s + 9] += z;
  stiffness[s + 11] -= x;
  stiffness[s + 15] -= y;
  stiffness[s + 16] += x;
}

/**
 * Turns the columns at a node from "by u behind" into "by u ahead" of its support:
 * x = Y (Δahead - K x + e) + y, with e what is unbalanced now. They stand at `at`: six by u, y, and `count` in all.
 */
export function passSupport(span: Span, node: number, columns: Float64Array, at: number, count: number): void {
  const supports = span.supports!;
  const k = supports.nodes.indexOf(node);
  unbalanced(span, k, imbalance);
  for (let r = 0; r < 6; r++) {
    for (let c = 0; c < 6; c++) {
      let sum = r === c ? 1 : 0;
      for (let j = 0; j < 6; j++) sum += columns[at + 6 * j + r] * supports.stiffness[36 * k + 6 * j + c];
      matrix[6 * r + c] = sum;
    }
    for (let j = 0; j < 6; j++) columns[at + 36 + r] += columns[at + 6 * j + r] * imbalance[j];
  }
  supports.turns[k] = factorise(matrix, 6, pivots) < 0 ? -1 : 1;
  for (let c = 0; c < count; c++) {
    const column = columns.subarray(at + 6 * c, at + 6 * c + 6);
    solveFactorised(matrix, 6, pivots, column);
  }
}

/** Change of u behind a support, from its node's movement and the u ahead as it has become (against that of u ahead where it has not yet). */
export function changeBehind(span: Span, k: number, movement: Float64Array, into: Float64Array): void {
  const { stiffness } = span.supports!;
  unbalanced(span, k, into);
  for (let r = 0; r < 6; r++) {
    for (let c = 0; c < 6; c++) into[r] -= stiffness[36 * k + 6 * r + c] * movement[c];
  }
}

/** u ahead + wrench - u behind. */
function unbalanced({ u, supports }: Span, k: number, into: Float64Array): void {
  for (let c = 0; c < 6; c++) into[c] = u[6 * k + 6 + c] + supports!.wrench[6 * k + c] - u[6 * k + c];
}

const imbalance = new Float64Array(6);
const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
