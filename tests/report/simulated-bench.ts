/**
 * The printed bending table, bent: a straight wire is fed, rolled and bent by the rounded numbers of the report, step by
 * step, and laid beside the passive shape. Written from the geometry of circle and screw; shares nothing with the
 * product's path.
 */
import { expect } from 'vitest';
import type { ApplianceDesign } from '#core/design';
import type { ReportPlan } from '#report/plan-schema';

type Triple = [number, number, number];
/** A place on the finished part of the wire, with the section's up and side there. */
interface Particle {
  place: Triple;
  up: Triple;
  tangent: Triple;
  station: number;
  /** After so many bends, on the straight (or at the point) before the next; undefined within a bend. */
  leg: number | undefined;
}

/** The bench: bending happens at the origin; finished wire lies toward -x, stock toward +x; up is +y. */
export function bentBy(plan: ReportPlan): Particle[] {
  const wire: Particle[] = [{ place: [0, 0, 0], up: [0, 1, 0], tangent: [1, 0, 0], station: 0, leg: 0 }];
  let station = 0;
  const move = (how: (p: Triple) => Triple, turn: (v: Triple) => Triple): void => {
    for (const particle of wire) {
      particle.place = how(particle.place);
      particle.up = turn(particle.up);
      particle.tangent = turn(particle.tangent);
    }
  };
  // How the section stands at the bench now: rolled with the wire.
  let rolled = 0;
  let leg: number | undefined = 0;
  let legs = 0;
  const here = (): void => {
    wire.push({ place: [0, 0, 0], up: aboutX([0, 1, 0], rolled), tangent: [1, 0, 0], station, leg });
  };
  const feed = (length: number): void => {
    const pieces = Math.max(1, Math.ceil(length));
    for (let k = 0; k < pieces; k++) {
      move(
        ([x, y, z]) => [x - length / pieces, y, z],
        (v) => v,
      );
      station += length / pieces;
      here();
    }
  };
  feed(plan.lead);
  for (const bend of plan.bends) {
    // Clockwise as seen along +x: the right-hand turn about it.
    const roll = radians(bend.roll);
    move(
      (p) => aboutX(p, roll),
      (v) => aboutX(v, roll),
    );
    rolled += roll;
    const total = radians(bend.angle);
    const pieces = Math.max(1, Math.ceil(Math.abs(total) / 0.05));
    leg = undefined;
    const part = total / pieces;
    for (let k = 0; k < pieces; k++) {
      if (bend.kind === 'twist') {
        // The wire beyond keeps lying at the bench as it is; what is behind turns the other way.
        move(
          ([x, y, z]) => aboutX([x - bend.length / pieces, y, z], -part),
          (v) => aboutX(v, -part),
        );
        station += bend.length / pieces;
      } else {
        // One screw motion of the finished wire against the stock: round the axis over the bench, slipping along it.
        const radius = bend.radius!;
        const around = 2 * Math.PI * radius;
        const slope = bend.pitch === 0 ? 0 : Math.atan(bend.pitch / around);
        const sense = Math.sign(part);
        const axis: Triple = [Math.sin(slope), 0, sense * Math.cos(slope)];
        const centre: Triple = [0, sense * radius, 0];
        const slip = (Math.abs(part) / (2 * Math.PI)) * bend.pitch;
        const turn = (v: Triple): Triple => about(axis, v, -Math.abs(part));
        move((p) => {
          const q = turn(minus(p, centre));
          return [
            q[0] + centre[0] - slip * axis[0],
            q[1] + centre[1] - slip * axis[1],
            q[2] + centre[2] - slip * axis[2],
          ];
        }, turn);
        station += (Math.abs(part) / (2 * Math.PI)) * Math.hypot(around, bend.pitch);
      }
      here();
    }
    // What a sharp corner leaves as a twist at the same place belongs to it.
    if (bend.kind !== 'twist' || bend.length > 0) legs += 1;
    leg = legs;
    feed(bend.toNext);
  }
  return fromStart(wire);
}

/** The elements of the design followed in small straight steps, in the patient's own frame of the wire's start. */
export function passive({ elements }: ApplianceDesign, mirrored: boolean): Particle[] {
  let frame: [Triple, Triple, Triple] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  let place: Triple = [0, 0, 0];
  let station = 0;
  let legs = 0;
  const wire: Particle[] = [];
  const note = (leg: number | undefined): void => {
    const flip = (v: Triple): Triple => (mirrored ? [v[0], v[1], -v[2]] : v);
    wire.push({ place: flip(place), up: flip(frame[1]), tangent: flip(frame[0]), station, leg });
  };
  note(0);
  for (const { length, shape, preactivation } of elements) {
    const turn = [0, 1, 2].map((k) => shape[k] + preactivation[k]);
    const size = Math.hypot(...turn);
    const pieces = Math.max(1, Math.ceil(length / 0.02), Math.ceil(size / 0.01));
    const rotate = (share: number): void => {
      if (size === 0) return;
      const axis = [0, 1, 2].map((k) => (frame[0][k] * turn[0] + frame[1][k] * turn[1] + frame[2][k] * turn[2]) / size);
      frame = frame.map((v) => about(axis as Triple, v, size * share)) as typeof frame;
    };
    for (let k = 0; k < pieces; k++) {
      // Midpoint rule: chords of 0.01 rad, exact to 1e-5 of a piece.
      rotate(0.5 / pieces);
      place = [0, 1, 2].map((i) => place[i] + (frame[0][i] * length) / pieces) as Triple;
      rotate(0.5 / pieces);
      station += length / pieces;
      if (k % 5 === 4) note(size === 0 ? legs : undefined);
    }
    if (size > 0) legs += 1;
    note(legs);
  }
  return wire;
}

/** Largest distance anywhere, mm, and turn of the section on any leg, deg, of two wires that start alike. */
export function mismatch(bent: Particle[], wanted: Particle[], holding: number): { distance: number; angle: number } {
  // The bench starts at the cut end, the design where the holding ends.
  const shape = bent.map((p) => ({ ...p, place: minus(p.place, [holding, 0, 0]), station: p.station - holding }));
  const legs = new Map(shape.flatMap((p) => (p.leg === undefined ? [] : [[p.leg, p] as const])));
  let distance = 0;
  let angle = 0;
  for (const want of wanted) {
    distance = Math.max(distance, distanceTo(shape, want));
    if (want.leg !== undefined) angle = Math.max(angle, turnBetween(legs.get(want.leg)!, want));
  }
  expect(legs.size).toBe(wanted.at(-1)!.leg! + 1);
  expect(Math.abs(shape.at(-1)!.station - holding - wanted.at(-1)!.station)).toBeLessThan(1);
  return { distance, angle };
}

/** To the bent wire's pieces of about the same station, so that legs that cross are not confused. */
function distanceTo(shape: Particle[], { place, station }: Particle): number {
  let least = Infinity;
  for (let k = 1; k < shape.length; k++) {
    const [a, b] = [shape[k - 1], shape[k]];
    if (b.station < station - 1.5 || a.station > station + 1.5) continue;
    const along = minus(b.place, a.place);
    const to = minus(place, a.place);
    const size = dot(along, along);
    const t = size === 0 ? 0 : Math.min(1, Math.max(0, dot(to, along) / size));
    least = Math.min(least, Math.hypot(...minus(to, [along[0] * t, along[1] * t, along[2] * t])));
  }
  return least;
}

/** Turn from one frame to another, deg, from tangent and up. */
function turnBetween(a: Particle, b: Particle): number {
  const [sa, sb] = [cross(a.tangent, a.up), cross(b.tangent, b.up)];
  const trace = dot(a.tangent, b.tangent) + dot(a.up, b.up) + dot(sa, sb);
  return (Math.acos(Math.min(1, Math.max(-1, (trace - 1) / 2))) * 180) / Math.PI;
}

/** Everything as seen from the first particle. */
function fromStart(wire: Particle[]): Particle[] {
  const { place, tangent, up } = { ...wire[0] };
  const side = cross(tangent, up);
  const seen = (v: Triple): Triple => [dot(v, tangent), dot(v, up), dot(v, side)];
  return wire.map((p) => ({
    place: seen(minus(p.place, place)),
    up: seen(p.up),
    tangent: seen(p.tangent),
    station: p.station,
    leg: p.leg,
  }));
}

function about(axis: Triple, v: Triple, angle: number): Triple {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const w = cross(axis, v);
  const d = dot(axis, v) * (1 - c);
  return [v[0] * c + w[0] * s + axis[0] * d, v[1] * c + w[1] * s + axis[1] * d, v[2] * c + w[2] * s + axis[2] * d];
}

function aboutX(v: Triple, angle: number): Triple {
  return about([1, 0, 0], v, angle);
}

function minus(a: Triple, b: Triple): Triple {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function cross(a: Triple, b: Triple): Triple {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function dot(a: Triple, b: Triple): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function radians(angle: number): number {
  return (angle * Math.PI) / 180;
}
