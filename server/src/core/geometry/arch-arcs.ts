/** An arch form as arcs of constant curvature, as a wire is laid out. */
import type { ArchForm, Point } from './arch-form';

/** A piece of constant curvature; `turn` counts from the left toward anterior, rad. */
export interface Arc {
  readonly length: number;
  readonly turn: number;
}

/** Largest distance between form and arcs, and difference of their lengths, over any stretch, mm. */
export const ARCH_TOLERANCE = 0.01;

/**
 * Arcs from one distance along the form to another (in either direction), joined without a kink. Two arcs to a piece
 * (a biarc with equal legs) meet the form and its direction at the piece's ends exactly, so that errors do not add up
 * from piece to piece; pieces are halved until those in between are far below `ARCH_TOLERANCE`.
 */
export function archArcs(form: ArchForm, from: number, to: number): Arc[] {
  if (from === to) return [];
  return piece(form, from, to, Math.max(1, Math.ceil(Math.abs(to - from) / LONGEST)));
}

/** Longest piece that is tried, mm: one tooth and a little. */
const LONGEST = 12;
/** Of one piece, mm. Lengths add up over at most fifty pieces; places do not, as each piece ends on the form. */
const LENGTH_TOLERANCE = ARCH_TOLERANCE / 50;
const PLACE_TOLERANCE = ARCH_TOLERANCE / 3;
const SHORTEST = 1e-3;

function piece(form: ArchForm, from: number, to: number, parts: number): Arc[] {
  if (parts > 1) {
    return Array.from({ length: parts }, (_, k) => {
      const step = (to - from) / parts;
      return piece(form, from + k * step, k + 1 === parts ? to : from + (k + 1) * step, 1);
    }).flat();
  }
  const backwards = to < from;
  const arcs = biarc(headingAt(form, from, backwards), headingAt(form, to, backwards));
  const length = Math.abs(to - from);
  if (length <= SHORTEST || close(form, from, to, arcs)) return arcs;
  return piece(form, from, to, 2);
}

/** A place and the direction of travel there, from the left toward anterior, rad. */
export interface Heading {
  readonly point: Point;
  readonly angle: number;
}

/** The form's place and direction at a distance, travelled toward the left or `backwards`. */
export function headingAt(form: ArchForm, distance: number, backwards: boolean): Heading {
  return { point: form.pointAt(distance), angle: form.angleAt(distance) + (backwards ? Math.PI : 0) };
}

/** Two arcs from one place and direction to another, without a kink where they meet. */
export function biarc(from: Heading, to: Heading): Arc[] {
  const [p, q] = [from.point, to.point];
  const [start, end] = [from.angle, to.angle];
  const v: Point = [q[0] - p[0], q[1] - p[1]];
  const t: Point = [Math.cos(start) + Math.cos(end), Math.sin(start) + Math.sin(end)];
  const across = v[0] * t[0] + v[1] * t[1];
  const square = v[0] * v[0] + v[1] * v[1];
  // Legs of length d: |v|² = 2 d v·t + 2 d² (cos of the turn - 1), written so that it holds for no turn too.
  const bent = 4 * Math.sin((end - start) / 2) ** 2;
  const d = square / (across + Math.sqrt(across * across + bent * square));
  const joint: Point = [
    (p[0] + d * Math.cos(start) + q[0] - d * Math.cos(end)) / 2,
    (p[1] + d * Math.sin(start) + q[1] - d * Math.sin(end)) / 2,
  ];
  const middle = Math.atan2(v[1] - d * (Math.sin(start) + Math.sin(end)), v[0] - d * (Math.cos(start) + Math.cos(end)));
  const turn = wrapped(middle - start);
  return [arc(p, joint, turn), arc(joint, q, end - start - turn)];
}

/** An arc that turns by `turn` between two points has its chord times (turn/2)/sin(turn/2) as length. */
function arc(from: Point, to: Point, turn: number): Arc {
  const chord = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const half = turn / 2;
  return { length: Math.abs(half) < 1e-6 ? chord * (1 + (half * half) / 6) : (chord * half) / Math.sin(half), turn };
}

function wrapped(angle: number): number {
  return Math.atan2(Math.sin(angle), Math.cos(angle));
}

/** Whether the arcs are as long as the piece, and lie on it at its eighths. */
function close(form: ArchForm, from: number, to: number, arcs: readonly Arc[]): boolean {
  const first = headingAt(form, from, to < from);
  const length = arcs.reduce((sum, one) => sum + one.length, 0);
  if (Math.abs(length - Math.abs(to - from)) > LENGTH_TOLERANCE) return false;
  return [1, 2, 3, 4, 5, 6, 7].every((k) => {
    const place = placeAlong(first, arcs, (length * k) / 8);
    const meant = form.pointAt(from + ((to - from) * k) / 8);
    return Math.hypot(place[0] - meant[0], place[1] - meant[1]) <= PLACE_TOLERANCE;
  });
}

/** Place after `length` of arcs from a point and heading. */
export function placeAlong({ point, angle }: Heading, arcs: readonly Arc[], length: number): Point {
  let [x, y] = point;
  let direction = angle;
  let rest = length;
  for (const one of arcs) {
    const part = Math.min(rest, one.length);
    const turn = one.length > 0 ? (one.turn * part) / one.length : 0;
    const half = turn / 2;
    const chord = Math.abs(half) < 1e-9 ? part : (part * Math.sin(half)) / half;
    x += chord * Math.cos(direction + half);
    y += chord * Math.sin(direction + half);
    direction += turn;
    rest -= part;
    if (rest <= 0) break;
  }
  return [x, y];
}
