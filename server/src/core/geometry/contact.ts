/** Pieces of wire that come closer than their thickness, legs that cross included. */
import type { Contact, Outline } from '../analysis/analysis';
import type { WireElement } from '../design';
import type { SectionProperties } from '../material/section';
import { norm } from '../math/vector';

/**
 * Contacts of a wire with itself: for each stretch in which it comes back to itself, the closest pair. Pieces
 * that follow one another (the wire from any place to where it first stands clear of that place) are neighbours
 * and do not count. Sections are taken as rectangles turned with the wire, or round. Coils, and the arms of a coil, may
 * lie against each other.
 */
export function selfContacts(
  outline: Outline,
  section: SectionProperties,
  round: boolean,
  elements: readonly WireElement[],
): readonly Contact[] {
  const { stations } = outline;
  const coils = coilsOf(elements);
  const segments = stations.length - 1;
  const largest = round ? section.height : Math.sqrt(section.height ** 2 + section.width ** 2);
  const found: Contact[] = [];
  for (let i = 0; i < segments; i++) {
    let clear = false;
    // What follows within the wire's own thickness cannot stand clear yet.
    let j = i + 2;
    while (j < segments && stations[j] - stations[i + 1] < section.thickness) j++;
    for (; j < segments; j++) {
      const room = roomBetween(outline, i, j) - largest;
      if (room > 0) {
        clear = true;
        // The wire cannot come back sooner than its length allows.
        const soonest = stations[j + 1] + room;
        while (j + 1 < segments && stations[j + 2] <= soonest) j++;
        continue;
      }
      const clearance = segmentClearance(outline, i, j, section, round, largest);
      if (clearance > 0) clear = true;
      else if (clear) {
        const contact = contactOf(stations, i, j, clearance);
        if (!liesAgainst(coils, contact, section.thickness)) note(found, contact);
      }
    }
  }
  return found;
}

/** Wire that is wound on itself: the stations of a piece that turns by more than half a turn, and its length per turn. */
interface Coil {
  readonly from: number;
  readonly to: number;
  readonly turn: number;
}

function coilsOf(elements: readonly WireElement[]): readonly Coil[] {
  const coils: Coil[] = [];
  let from = 0;
  for (const { length, shape } of elements) {
    const turns = norm(shape) / (2 * Math.PI);
    if (turns > 0.5) coils.push({ from, to: from + length, turn: length / turns });
    from += length;
  }
  return coils;
}

/**
 * Whether a contact is one of neighbouring turns, or of a turn and the arm beside it, that no more than press on each
 * other. Where an arm leaves the coil's slope for its plane it cuts, as drawn, into the turn beside it by a fraction of the
 * wire; a real one springs aside by that.
 */
function liesAgainst(
  coils: readonly Coil[],
  { stations: [first, second], clearance }: Contact,
  thickness: number,
): boolean {
  if (clearance < -PRESSED * thickness) return false;
  return coils.some(({ from, to, turn }) => {
    const arm = turn / 3;
    return first >= from - arm && second <= to + arm && second - first <= turn + arm;
  });
}

const PRESSED = 1 / 3;

/** At the closest pair of points of two segments, as `segmentClearance` left it. */
function contactOf(stations: readonly number[], i: number, j: number, clearance: number): Contact {
  return {
    stations: [
      stations[i] + pair[0] * (stations[i + 1] - stations[i]),
      stations[j] + pair[1] * (stations[j + 1] - stations[j]),
    ],
    clearance,
  };
}

/** Keeps the closest pair of each stretch: a contact within `STRETCH` mm of a known one at both places belongs to it. */
function note(found: Contact[], contact: Contact): void {
  for (let k = 0; k < found.length; k++) {
    const known = found[k];
    if (
      Math.abs(known.stations[0] - contact.stations[0]) < STRETCH &&
      Math.abs(known.stations[1] - contact.stations[1]) < STRETCH
    ) {
      if (contact.clearance < known.clearance) found[k] = contact;
      return;
    }
  }
  found.push(contact);
}

const STRETCH = 3;

/** A distance, mm, that two segments keep at least: of their middles less their half lengths. */
function roomBetween({ points, stations }: Outline, i: number, j: number): number {
  const a = 3 * i;
  const b = 3 * j;
  const x = points[a] + points[a + 3] - points[b] - points[b + 3];
  const y = points[a + 1] + points[a + 4] - points[b + 1] - points[b + 4];
  const z = points[a + 2] + points[a + 5] - points[b + 2] - points[b + 5];
  return 0.5 * (Math.sqrt(x * x + y * y + z * z) - (stations[i + 1] - stations[i]) - (stations[j + 1] - stations[j]));
}

/** Fractions along both segments of the closest pair, and the direction between them. */
const pair = new Float64Array(2);
const apart = new Float64Array(3);
const direction = new Float64Array(3);
const frames = [new Float64Array(9), new Float64Array(9)];

/** Distance of two segments less what their sections take in its direction, or at most (`largest`). */
function segmentClearance(
  outline: Outline,
  i: number,
  j: number,
  section: SectionProperties,
  round: boolean,
  largest: number,
): number {
  closest(outline.points, i, j);
  const distance = Math.sqrt(apart[0] * apart[0] + apart[1] * apart[1] + apart[2] * apart[2]);
  if (round) return distance - section.height;
  if (distance < 1e-9) return -section.thickness;
  if (distance > largest) return distance - largest;
  // Two boxes are apart if they are so in any direction: that of the closest points, or square to a side of either.
  frameOf(outline, i, frames[0]);
  frameOf(outline, j, frames[1]);
  for (let k = 0; k < 3; k++) direction[k] = apart[k] / distance;
  const { thickness } = section;
  let clearance = clearanceAlong(direction, 0, section, 0);
  for (const frame of frames) {
    clearance = Math.max(
      clearance,
      clearanceAlong(frame, 3, section, thickness),
      clearanceAlong(frame, 6, section, thickness),
    );
  }
  return clearance;
}

/** Tangent, up and side of a segment. */
function frameOf({ points, sides }: Outline, i: number, frame: Float64Array): void {
  const o = 3 * i;
  const tx = points[o + 3] - points[o];
  const ty = points[o + 4] - points[o + 1];
  const tz = points[o + 5] - points[o + 2];
  const length = Math.sqrt(tx * tx + ty * ty + tz * tz) || 1;
  frame[0] = tx / length;
  frame[1] = ty / length;
  frame[2] = tz / length;
  const sx = sides[o];
  const sy = sides[o + 1];
  const sz = sides[o + 2];
  frame[3] = sy * frame[2] - sz * frame[1];
  frame[4] = sz * frame[0] - sx * frame[2];
  frame[5] = sx * frame[1] - sy * frame[0];
  frame[6] = sx;
  frame[7] = sy;
  frame[8] = sz;
}

/** What two sections, each with `reach` of its wire to either side, leave free in a direction. */
function clearanceAlong(
  direction: Float64Array,
  at: number,
  { height, width }: SectionProperties,
  reach: number,
): number {
  let clearance = Math.abs(project(apart, 0, direction, at));
  for (const frame of frames) {
    clearance -= 0.5 * height * Math.abs(project(frame, 3, direction, at));
    clearance -= 0.5 * width * Math.abs(project(frame, 6, direction, at));
    clearance -= reach * Math.abs(project(frame, 0, direction, at));
  }
  return clearance;
}

function project(a: Float64Array, i: number, b: Float64Array, j: number): number {
  return a[i] * b[j] + a[i + 1] * b[j + 1] + a[i + 2] * b[j + 2];
}

/** Closest points of two segments (Ericson, Real-Time Collision Detection, 2005, section 5.1.9). */
function closest(p: readonly number[], i: number, j: number): void {
  let a = 0;
  let b = 0;
  let c = 0;
  let e = 0;
  let f = 0;
  for (let k = 0; k < 3; k++) {
    const d1 = p[3 * i + 3 + k] - p[3 * i + k];
    const d2 = p[3 * j + 3 + k] - p[3 * j + k];
    const r = p[3 * i + k] - p[3 * j + k];
    a += d1 * d1;
    b += d1 * d2;
    c += d1 * r;
    e += d2 * d2;
    f += d2 * r;
  }
  const denominator = a * e - b * b;
  let s = denominator > 1e-12 * a * e ? clamp((b * f - c * e) / denominator) : 0;
  let t = e > 0 ? (b * s + f) / e : 0;
  if (t < 0 || t > 1) {
    t = clamp(t);
    s = a > 0 ? clamp((b * t - c) / a) : 0;
  }
  pair[0] = s;
  pair[1] = t;
  for (let k = 0; k < 3; k++) {
    const first = p[3 * i + k] + s * (p[3 * i + 3 + k] - p[3 * i + k]);
    const second = p[3 * j + k] + t * (p[3 * j + 3 + k] - p[3 * j + k]);
    apart[k] = first - second;
  }
}

function clamp(x: number): number {
  return Math.min(Math.max(x, 0), 1);
}
