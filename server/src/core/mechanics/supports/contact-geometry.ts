/**
 * Where a wire's node touches a slot, and what a force there does: how far the wire's line and section stand out of the slot, and
 * the wrench and stiffness of what presses back, exact to first order in the node's movement.
 */
import type { Mat3, Vec3 } from '../../math/vector';
import type { Span } from '../span';
import { strainRates } from '../strain-rates';

/** Where a slot stands in the span's frame. */
export interface SlotPlace {
  /** Middle of the slot, mm. */
  readonly position: Vec3;
  /** Columns: along the slot (in the direction of integration), across its height, across its depth. */
  readonly axes: Mat3;
}

/** Numbers of a law's present place: position (3), axes row by row (9). */
export const PLACE = 12;

/** Puts a slot, or a place `along` mm from its middle, into numbers. */
export function writePlace({ position, axes }: SlotPlace, along: number, into: Float64Array): void {
  for (let c = 0; c < 3; c++) {
    into[c] = position[c] + along * axes[3 * c];
    for (let d = 0; d < 3; d++) into[3 + 3 * c + d] = axes[3 * c + d];
  }
}

/** Of the contact looked at: outward normal, point, the point's way from the node, and what the normal does as the node turns. */
const normal = new Float64Array(3);
const contact = new Float64Array(3);
const offset = new Float64Array(3);
const turning = new Float64Array(6);
/** The wire's line at the plane of an edge: tangent there, and its change per mm of the line. */
const tangent = new Float64Array(3);
const curving = new Float64Array(3);
const strains = new Float64Array(6);
const gradient = new Float64Array(3);
/** The gradient's derivative by the node's turn, and what it is made of. */
const byTurn = new Float64Array(9);
const bending = new Float64Array(12);

function tangentOf(q: Float64Array, at: number): void {
  const w = q[at];
  const x = q[at + 1];
  const y = q[at + 2];
  const z = q[at + 3];
  tangent[0] = 1 - 2 * (y * y + z * z);
  tangent[1] = 2 * (x * y + w * z);
  tangent[2] = 2 * (x * z - w * y);
}

export function alongSlot({ position }: Span, node: number, place: Float64Array): number {
  let away = 0;
  for (let c = 0; c < 3; c++) away += place[3 + 3 * c] * (position[3 * node + c] - place[c]);
  return away;
}

/** How far ahead of a node, along its tangent, the wire passes the plane across the slot, mm. */
export function aheadOfNode(span: Span, node: number, place: Float64Array): number {
  tangentOf(span.rotation, 4 * node);
  return -alongSlot(span, node, place) / (place[3] * tangent[0] + place[6] * tangent[1] + place[9] * tangent[2]);
}

/** The wire's line through a node where it passes the plane across the slot: contact, offset and tangent there. */
export function lineAt(span: Span, node: number, place: Float64Array): void {
  const { position } = span;
  const slid = aheadOfNode(span, node, place);
  strainRates(span, node, strains);
  // Elastic curvature ω × t; the wire in a slot is straight as bent. What it has yielded by is missed only until the node is there.
  const bx = strains[1] * tangent[2] - strains[2] * tangent[1];
  const by = strains[2] * tangent[0] - strains[0] * tangent[2];
  const bz = strains[0] * tangent[1] - strains[1] * tangent[0];
  curving[0] = bx;
  curving[1] = by;
  curving[2] = bz;
  const half = 0.5 * slid * slid;
  offset[0] = slid * tangent[0] + half * bx;
  offset[1] = slid * tangent[1] + half * by;
  offset[2] = slid * tangent[2] + half * bz;
  tangent[0] += slid * bx;
  tangent[1] += slid * by;
  tangent[2] += slid * bz;
  for (let c = 0; c < 3; c++) contact[c] = position[3 * node + c] + offset[c];
}

/**
 * How far the line is from the slot's middle across one of its axes, and that by the node's movement in `row`; leaves the contact's
 * normal, which is square to the wire.
 */
export function acrossLine(place: Float64Array, axis: number, row: Float64Array): number {
  const along = place[3] * tangent[0] + place[6] * tangent[1] + place[9] * tangent[2];
  const tilt = (place[3 + axis] * tangent[0] + place[6 + axis] * tangent[1] + place[9 + axis] * tangent[2]) / along;
  let away = 0;
  for (let c = 0; c < 3; c++) {
    normal[c] = place[3 + 3 * c + axis] - tilt * place[3 + 3 * c];
    away += normal[c] * (contact[c] - place[c]);
  }
  // As the node turns by θ the normal goes by -a (θ · (t × n)) / (a · t).
  turning[0] = (tangent[1] * normal[2] - tangent[2] * normal[1]) / along;
  turning[1] = (tangent[2] * normal[0] - tangent[0] * normal[2]) / along;
  turning[2] = (tangent[0] * normal[1] - tangent[1] * normal[0]) / along;
  for (let c = 0; c < 3; c++) turning[3 + c] = place[3 + 3 * c];
  distanceRow(row);
  return away;
}

/** Distance along the normal by the node's movement. */
function distanceRow(into: Float64Array): void {
  into[0] = offset[1] * normal[2] - offset[2] * normal[1];
  into[1] = offset[2] * normal[0] - offset[0] * normal[2];
  into[2] = offset[0] * normal[1] - offset[1] * normal[0];
  into[3] = normal[0];
  into[4] = normal[1];
  into[5] = normal[2];
}

/** Adds the contact's force -`force` along its normal, with its stiffness, to support k. `lasts`: it is about what it will be. */
export function press(span: Span, k: number, force: number, stiff: number, lasts: boolean): void {
  if (stiff === 0) return;
  const { wrench, stiffness } = span.supports!;
  const [nx, ny, nz] = [normal[0], normal[1], normal[2]];
  const [x, y, z] = [contact[0], contact[1], contact[2]];
  // Force and moment about the span's start, per N.
  rows[3] = nx;
  rows[4] = ny;
  rows[5] = nz;
  rows[0] = y * nz - z * ny;
  rows[1] = z * nx - x * nz;
  rows[2] = x * ny - y * nx;
  distanceRow(byNode);
  // What a force presses while the wire is still far from where it belongs says nothing of where it will press.
  const lasting = lasts ? force : Math.max(-LASTING, Math.min(LASTING, force));
  slidden[3] = turning[3];
  slidden[4] = turning[4];
  slidden[5] = turning[5];
  slidden[0] = y * slidden[5] - z * slidden[4];
  slidden[1] = z * slidden[3] - x * slidden[5];
  slidden[2] = x * slidden[4] - y * slidden[3];
  for (let r = 0; r < 6; r++) {
    wrench[6 * k + r] -= force * rows[r];
    for (let c = 0; c < 6; c++) stiffness[36 * k + 6 * r + c] += stiff * rows[r] * byNode[c];
    for (let c = 0; c < 3; c++) stiffness[36 * k + 6 * r + c] -= lasting * slidden[r] * turning[c];
  }
  // The contact moves with the node, along the wire as far as keeps it in its plane, and its force with it; where the wire is
  // curved there, the normal turns as it does.
  const along = turning[3] * tangent[0] + turning[4] * tangent[1] + turning[5] * tangent[2];
  const curved = along === 0 ? 0 : (lasting * (nx * curving[0] + ny * curving[1] + nz * curving[2])) / along;
  for (let c = 0; c < 6; c++) {
    const d = c % 3;
    moved[0] = c < 3 ? (d === 1 ? offset[2] : d === 2 ? -offset[1] : 0) : d === 0 ? 1 : 0;
    moved[1] = c < 3 ? (d === 2 ? offset[0] : d === 0 ? -offset[2] : 0) : d === 1 ? 1 : 0;
    moved[2] = c < 3 ? (d === 0 ? offset[1] : d === 1 ? -offset[0] : 0) : d === 2 ? 1 : 0;
    if (along !== 0) {
      const back = (turning[3] * moved[0] + turning[4] * moved[1] + turning[5] * moved[2]) / along;
      for (let r = 0; r < 3; r++) moved[r] -= back * tangent[r];
      for (let r = 0; r < 6; r++) stiffness[36 * k + 6 * r + c] += curved * back * slidden[r];
    }
    stiffness[36 * k + c] -= lasting * (ny * moved[2] - nz * moved[1]);
    stiffness[36 * k + 6 + c] -= lasting * (nz * moved[0] - nx * moved[2]);
    stiffness[36 * k + 12 + c] -= lasting * (nx * moved[1] - ny * moved[0]);
  }
}

const moved = new Float64Array(3);

/** N and N mm, about the most that a wire presses with. */
const LASTING = 50;

const rows = new Float64Array(6);
const byNode = new Float64Array(6);
const slidden = new Float64Array(6);

/** Turn of the node's section about the slot's length against the slot, rad, and that by the node's movement in `row`; leaves its gradient. */
export function turnAbout(q: Float64Array, at: number, place: Float64Array, row: Float64Array): number {
  const w = q[at];
  const x = q[at + 1];
  const y = q[at + 2];
  const z = q[at + 3];
  // The section's up axis.
  const ux = 2 * (x * y - w * z);
  const uy = 1 - 2 * (x * x + z * z);
  const uz = 2 * (y * z + w * x);
  const [hx, hy, hz] = [place[4], place[7], place[10]];
  const [dx, dy, dz] = [place[5], place[8], place[11]];
  const cosine = ux * hx + uy * hy + uz * hz;
  const sine = ux * dx + uy * dy + uz * dz;
  const size = cosine * cosine + sine * sine;
  // δ(up · d) = θ · (up × d).
  gradient[0] = (cosine * (uy * dz - uz * dy) - sine * (uy * hz - uz * hy)) / size;
  gradient[1] = (cosine * (uz * dx - ux * dz) - sine * (uz * hx - ux * hz)) / size;
  gradient[2] = (cosine * (ux * dy - uy * dx) - sine * (ux * hy - uy * hx)) / size;
  row.set(gradient);
  // With N the gradient times size, gs = up × d and gc = up × h: δN = gs gcᵀ - gc gsᵀ + up (c d - s h)ᵀ, δ size = 2 c gc + 2 s gs.
  const gs0 = uy * dz - uz * dy;
  const gs1 = uz * dx - ux * dz;
  const gs2 = ux * dy - uy * dx;
  const gc0 = uy * hz - uz * hy;
  const gc1 = uz * hx - ux * hz;
  const gc2 = ux * hy - uy * hx;
  bending[0] = gs0;
  bending[1] = gs1;
  bending[2] = gs2;
  bending[3] = gc0;
  bending[4] = gc1;
  bending[5] = gc2;
  bending[6] = ux;
  bending[7] = uy;
  bending[8] = uz;
  bending[9] = cosine * dx - sine * hx;
  bending[10] = cosine * dy - sine * hy;
  bending[11] = cosine * dz - sine * hz;
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) {
      const turned = bending[r] * bending[3 + c] - bending[3 + r] * bending[c] + bending[6 + r] * bending[9 + c];
      const grown = 2 * (cosine * bending[3 + c] + sine * bending[c]);
      byTurn[3 * r + c] = (turned - gradient[r] * grown) / size;
    }
  }
  return Math.atan2(sine, cosine);
}

/** Adds the moment -`moment` against the turn last looked at, with its stiffness, to support k. `lasts`: it is about what it will be. */
export function turnBack(span: Span, k: number, moment: number, stiff: number, lasts: boolean): void {
  const { stiffness } = span.supports!;
  turnBackAlong(span, k, moment, stiff);
  // The gradient turns with the wire.
  const lasting = lasts ? moment : Math.max(-LASTING, Math.min(LASTING, moment));
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) stiffness[36 * k + 6 * r + c] += lasting * byTurn[3 * r + c];
  }
}

/** Presses a node back along an axis of the slot to the slot's middle. */
export function pressNode(
  span: Span,
  k: number,
  place: Float64Array,
  axis: number,
  stiff: number,
  lasts: boolean,
): void {
  const node = span.supports!.nodes[k];
  let away = 0;
  for (let c = 0; c < 3; c++) {
    normal[c] = place[3 + 3 * c + axis];
    contact[c] = span.position[3 * node + c];
    away += normal[c] * (contact[c] - place[c]);
  }
  offset.fill(0);
  turning.fill(0);
  press(span, k, stiff * away, stiff, lasts);
}

/** Turns a node back to the slot's direction. */
export function keepDirection(span: Span, k: number, place: Float64Array, stiff: number): void {
  tangentOf(span.rotation, 4 * span.supports!.nodes[k]);
  for (let across = 1; across < 3; across++) {
    const d0 = place[3 + across];
    const d1 = place[6 + across];
    const d2 = place[9 + across];
    const sine = d0 * tangent[0] + d1 * tangent[1] + d2 * tangent[2];
    // Turning by θ moves the tangent by θ × t; across an axis d that is θ · (t × d).
    gradient[0] = tangent[1] * d2 - tangent[2] * d1;
    gradient[1] = tangent[2] * d0 - tangent[0] * d2;
    gradient[2] = tangent[0] * d1 - tangent[1] * d0;
    turnBackAlong(span, k, stiff * sine, stiff);
  }
}

/** Adds the moment -`moment` along the gradient of the turn it answers. */
function turnBackAlong(span: Span, k: number, moment: number, stiff: number): void {
  const { wrench, stiffness } = span.supports!;
  for (let r = 0; r < 3; r++) {
    wrench[6 * k + r] -= moment * gradient[r];
    for (let c = 0; c < 3; c++) stiffness[36 * k + 6 * r + c] += stiff * gradient[r] * gradient[c];
  }
}
