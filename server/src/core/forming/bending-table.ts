/**
 * A wire as the rows of a bending table: what is done to a straight wire, place by place, by somebody who bends in one
 * plane and rolls the wire about its own axis in between.
 *
 * The wire lies with its start toward the bender and runs away from him. Rolls and twists count clockwise as he looks along it.
 * Before the first roll the section's up axis points up; bends go up or down. Lengths in mm, angles in rad.
 */
import type { WireElement } from '../design';
import { turnOf } from '../geometry/centreline';
import { rotationMatrix } from '../math/rotation';
import { addScaled, apply, multiply, norm, scale, transpose, type Vec3, zeroVector } from '../math/vector';

export interface BendingTable {
  /** Straight wire before the first row. */
  readonly lead: number;
  readonly rows: readonly BendingRow[];
}

export interface BendingRow {
  readonly kind: 'bend' | 'helix' | 'twist';
  /** Index of the element that it makes. */
  readonly element: number;
  /** Turn of the bending plane about the wire's axis against the section's up axis, above -π/2 and up to π/2. */
  readonly plane: number;
  /** Positive: up. Of a twist: by how much the wire beyond is turned clockwise against the wire before. */
  readonly angle: number;
  /** To the centre line; 0 for a sharp corner. */
  readonly radius: number;
  /** From turn to turn of a helix; positive winds right-handed. */
  readonly pitch: number;
  /** Wire that it takes, along the centre line. */
  readonly length: number;
  /** Straight wire after it, to the next row or the wire's end. */
  readonly toNext: number;
}

/** How far the wire is rolled clockwise before a row is bent; the bending plane then stands upright. */
export function rollBefore(rows: readonly BendingRow[], index: number): number {
  return (rows[index - 1]?.plane ?? 0) - rows[index].plane;
}

/**
 * The table of a wire's passive shape. `mirrored` where the elements are laid out in a frame that is the mirror image of the
 * real one: up stays up, and what turns one way turns the other.
 */
export function bendingTable(elements: readonly WireElement[], mirrored: boolean): BendingTable {
  let lead = 0;
  const rows: BendingRow[] = [];
  elements.forEach((element, index) => {
    const [along, up, side] = turnOf(element, 1);
    const turn: Vec3 = mirrored ? [-along, -up, side] : [along, up, side];
    const made = norm(turn) < NO_TURN ? [] : rowsOf(turn, element.length, index, rows.at(-1)?.plane ?? 0);
    rows.push(...made);
    if (made.length > 0) return;
    const last = rows.pop();
    if (last) rows.push({ ...last, toNext: last.toNext + element.length });
    else lead += element.length;
  });
  return { lead, rows };
}

/** The elements that the rows of a table make, with the straights between them: as many for any numbers in the same rows. */
export function tableElements({ lead, rows }: BendingTable): readonly WireElement[] {
  return [straight(lead), ...rows.flatMap((row) => [rowElement(row), straight(row.toNext)])];
}

function rowsOf(turn: Vec3, length: number, element: number, plane: number): BendingRow[] {
  const base = { element, radius: 0, pitch: 0, toNext: 0 };
  const across = Math.hypot(turn[1], turn[2]);
  if (across < NO_TURN) return [{ ...base, kind: 'twist', plane, angle: turn[0], length }];
  if (length === 0) return cornerRows(turn, element);
  const total = norm(turn);
  const upright = uprightPlane(Math.atan2(-turn[1], turn[2]), total);
  const radius = (length * across) / (total * total);
  const pitch = (2 * Math.PI * length * turn[0]) / (total * total);
  const kind = Math.abs(turn[0]) > NO_TURN || total > 2 * Math.PI - NO_TURN ? 'helix' : 'bend';
  return [{ ...base, kind, ...upright, radius, pitch, length }];
}

/** A sharp corner about any axis: a bend in the plane of the two legs, and what is left as a twist at the same place. */
function cornerRows(turn: Vec3, element: number): BendingRow[] {
  const rotation = rotationMatrix(turn);
  const [x, y, z] = apply(rotation, TANGENT);
  const angle = Math.atan2(Math.hypot(y, z), x);
  const upright = uprightPlane(Math.atan2(z, y), angle);
  const base = { element, radius: 0, pitch: 0, length: 0, toNext: 0 };
  const bend: BendingRow = { ...base, kind: 'bend', ...upright };
  const rest = multiply(transpose(rotationMatrix(rowElement(bend).shape)), rotation);
  const twist = Math.atan2(rest[7], rest[4]);
  const rows: BendingRow[] = angle > NO_TURN ? [bend] : [];
  if (Math.abs(twist) > NO_TURN) rows.push({ ...base, kind: 'twist', plane: upright.plane, angle: twist });
  return rows;
}

/** Plane and signed angle of a bend of `angle` whose upper side lies at `plane`. */
function uprightPlane(plane: number, angle: number): { readonly plane: number; readonly angle: number } {
  const half = Math.PI / 2 + NO_TURN;
  if (plane > half) return { plane: plane - Math.PI, angle: -angle };
  return plane <= -half + 2 * NO_TURN ? { plane: plane + Math.PI, angle: -angle } : { plane, angle };
}

function rowElement({ kind, plane, angle, radius, pitch, length }: BendingRow): WireElement {
  if (kind === 'twist') return { length, shape: [angle, 0, 0], preactivation: zeroVector };
  const axis: Vec3 = [0, -Math.sin(plane), Math.cos(plane)];
  const around = 2 * Math.PI * radius;
  const slope = radius === 0 ? 0 : Math.atan2(pitch, around);
  const shape = addScaled(scale(axis, angle * Math.cos(slope)), TANGENT, Math.abs(angle) * Math.sin(slope));
  return { length: (Math.abs(angle) / (2 * Math.PI)) * Math.hypot(around, pitch), shape, preactivation: zeroVector };
}

function straight(length: number): WireElement {
  return { length, shape: zeroVector, preactivation: zeroVector };
}

const TANGENT: Vec3 = [1, 0, 0];

/** What rounding leaves of many turns, rad. */
const NO_TURN = 1e-9;
