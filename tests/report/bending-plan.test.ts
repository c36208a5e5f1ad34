/**
 * The printed bending table, bent: a straight wire is fed, rolled and bent by the rounded numbers of the report in a
 * simulated bench, step by step, and must come out as the passive shape. The bench is written here from the geometry of
 * circle and screw and shares nothing with the product's path.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import type { ApplianceDesign } from '#core/design';
import { isMirrored } from '#model/bending/bending-plan';
import { reportPlan } from '#report/bending-plan';
import { plain } from '#report/paint';
import type { ReportPlan } from '#report/plan-schema';
import { buildAnalyzeReport } from '#report/report';
import { analyzeText } from '#report/text';
import { createWorkspace } from '#workspace/workspace';

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

/** Chords of the bench lie inside their arcs by radius × 0.05² / 8, mm, for arcs of up to 60 mm that is 0.02. */
const BENCH = 0.02;

const examples = resolve(import.meta.dirname, '../../examples');

async function appliancesOf(text: string, uri = 'file:///plan.spring') {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, text, 1);
  return (await workspace.snapshot(uri))!.appliances;
}

const planOf = async (text: string, index = 0) =>
  reportPlan((await appliancesOf(text))[index], () => ({ line: 1, column: 1 }))!;

describe.each(readdirSync(examples).filter((name) => name.endsWith('.spring')))('the plan of examples/%s', (name) => {
  it('gives the passive shape back within 0.1 mm and 0.5 deg', async () => {
    const path = join(examples, name);
    const appliances = await appliancesOf(readFileSync(path, 'utf8'), pathToFileURL(path).href);
    expect(appliances.length).toBeGreaterThan(0);
    for (const evaluated of appliances) {
      const plan = reportPlan(evaluated, () => ({ line: 1, column: 1 }))!;
      const { distance, angle } = mismatch(
        bentBy(plan),
        passive(evaluated.appliance.design!, isMirrored(evaluated.appliance.site)),
        plan.holding,
      );
      expect(distance).toBeLessThanOrEqual(0.1);
      expect(angle).toBeLessThanOrEqual(0.5);
      // The plan says the same of itself: it measures between like places, the bench to the nearest one.
      expect(distance).toBeLessThanOrEqual(plan.deviation.distance + BENCH);
      expect(angle).toBeLessThanOrEqual(plan.deviation.angle + 0.01);
    }
  });
});

/** One bend after another on a made-up wire, each by hand. */
const wire = (path: string, more = '') => `use "alloys"
appliance made_up {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 10 mm
    ${path}
    straight 10 mm
  }
  ${more}
}`;

describe('the rows', () => {
  it('say where to mark, how far to roll and which way to bend', async () => {
    const plan = await planOf(
      wire(
        'bend 90 deg toward gingival radius 1 mm straight 5 mm bend 30 deg toward buccal radius 1 mm twist 20 deg over 4 mm',
      ),
    );
    const arc = Math.PI / 2;
    expect(plan.cutLength).toBeCloseTo(15 + 10 + arc + 5 + arc / 3 + 4 + 10 + 15, 1);
    expect(plan.lead).toBe(25);
    const [first, second, twist] = plan.bends;
    expect(first).toMatchObject({ kind: 'bend', roll: 0, angle: 90, radius: 1, fromEnd: 25, toNext: 5 });
    const middle = (15 + 10 + arc + 5 + arc / 3 + 4 + 10 + 15) / 2;
    expect(Math.abs(first.fromMiddle - (25 - middle))).toBeLessThanOrEqual(plan.lengthStep / 2 + 1e-9);
    // Running mesially with gingival up, buccal is at the right hand (mesial × gingival): rolled counterclockwise it comes up.
    expect(second).toMatchObject({ roll: -90, angle: 30, before: 5, toNext: 0 });
    expect(second.fromEnd).toBeCloseTo(25 + arc + 5, 1);
    expect(twist).toMatchObject({ kind: 'twist', preactivation: true, length: 4, radius: null, load: null });
    expect(Math.abs(twist.angle)).toBe(20);
  });

  it.each([
    ['upper right', false],
    ['upper left', true],
    ['lower right', true],
    ['lower left', false],
  ])('give the wire of the %s back as it is there', async (site, mirrored) => {
    const path =
      'bend 75 deg toward gingival radius 1 mm straight 6 mm bend 33 deg toward buccal radius 2 mm twist 21 deg over 4 mm helix 1.25 turns diameter 3 mm toward distal pitch 0.7 mm';
    const [evaluated] = await appliancesOf(wire(path).replace('made_up {', `made_up on ${site} {`));
    const plan = reportPlan(evaluated, () => ({ line: 1, column: 1 }))!;
    const { distance, angle } = mismatch(bentBy(plan), passive(evaluated.appliance.design!, mirrored), plan.holding);
    expect(distance).toBeLessThanOrEqual(0.1);
    expect(angle).toBeLessThanOrEqual(0.5);
  });

  it('are those of the real side: what is mirrored rolls the other way, and up stays up', async () => {
    const path =
      'bend 90 deg toward gingival radius 1 mm bend 30 deg toward buccal radius 1 mm helix 2 turns diameter 3 mm toward gingival pitch 0.6 mm';
    const rows = async (site: string) =>
      (await planOf(wire(path).replace('made_up {', `made_up on ${site} {`))).bends.map(({ roll, angle, pitch }) => [
        roll,
        angle,
        pitch,
      ]);
    const right = await rows('upper right');
    const mirrored = right.map(([roll, angle, pitch]) => [-roll || 0, angle, -pitch || 0]);
    expect(right.some(([roll]) => roll !== 0)).toBe(true);
    expect(right.some(([, , pitch]) => pitch !== 0)).toBe(true);
    // A quarter turn one way with the bend up is as good as one the other way with the bend down.
    const alike = (all: number[][]) => all.map(([, angle, pitch]) => [Math.abs(angle), pitch]);
    expect(alike(await rows('upper left'))).toEqual(alike(mirrored));
    expect(alike(await rows('lower right'))).toEqual(alike(mirrored));
    expect(await rows('lower left')).toEqual(right);
  });

  it('bend to what springs back to the wanted angle (handbook, table in 3.6)', async () => {
    // Steel 0.016 round, radius 1 mm: 0.9304 of the curvature is left of radius under load 1 mm, so 90 deg of it from 96.7 deg.
    const text = wire(`bend 90 deg toward gingival radius ${(1 / 0.9304).toFixed(4)} mm`)
      .replace('0.016 in x 0.022 in of steel', 'round 0.016 in of made')
      .replace(
        'appliance',
        'alloy made { modulus = 180 GPa poisson = 0.3 yield = 1500 MPa inner_radius = 1 }\nappliance',
      );
    const [bend] = (await planOf(text)).bends;
    // Printed in half degrees and twentieths of a mm.
    expect(Math.abs(bend.load!.angle - 96.7)).toBeLessThanOrEqual(0.25 + 0.05);
    expect(Math.abs(bend.load!.innerRadius - (1 - 0.4064 / 2))).toBeLessThanOrEqual(0.025 + 1e-9);
  });
});

describe('what to look out for', () => {
  it('names bends too close for a beak, and not those that go on from one another', async () => {
    const close = await planOf(
      wire('bend 90 deg toward gingival radius 1 mm straight 0.6 mm bend 90 deg toward mesial radius 1 mm'),
    );
    expect(close.warnings).toEqual([{ kind: 'close', bends: [1, 2], straight: 0.6 }]);
    const far = await planOf(
      wire('bend 90 deg toward gingival radius 1 mm straight 1 mm bend 90 deg toward mesial radius 1 mm'),
    );
    expect(far.warnings).toEqual([]);
    const on = await planOf(wire('bend 90 deg toward gingival radius 1 mm bend 90 deg toward distal radius 2 mm'));
    expect(on.warnings).toEqual([]);
  });

  it('tells an open loop, which activation opens, from a closed one, which it closes (common practice)', async () => {
    const loop = (part: string) => `use "alloys"
use "loops"
appliance closing {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 3 mm
    seat molar
    straight 9 mm
    ${part}
    straight 9 mm
    seat canine
    straight 3 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 1 mm step 0.5 mm
}`;
    const top = ({ bends }: ReportPlan) => bends.find(({ angle }) => Math.abs(angle) === 180)!.number;
    const open = await planOf(loop('open_loop(height = 8 mm, width = 2 mm)'));
    const closed = await planOf(loop('closed_loop(height = 8 mm, width = 2 mm)'));
    const opened = ({ warnings }: ReportPlan) =>
      warnings.filter(({ kind }) => kind === 'opened').map(({ bends: [bend] }) => bend);
    expect(opened(open)).toContain(top(open));
    expect(opened(closed)).not.toContain(top(closed));
  });
});

describe('the order of work', () => {
  it('goes from the loop outward, preactivation last, and then pulls on trial', async () => {
    const name = '03-t-loop.spring';
    const plan = await planOf(readFileSync(join(examples, name), 'utf8'));
    expect(plan.order).toMatchObject([
      { stage: 'shape', from: 'loop', loop: 'loop', bends: [6, 7, 8, 9, 5, 4, 3, 2] },
      { stage: 'preactivation', bends: [10, 1] },
    ]);
    expect(plan.trialActivation).toBe(4);
  });
});

describe('the report', () => {
  const input = async () => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    const text = wire('bend 90 deg toward gingival radius 1 mm');
    workspace.open('file:///plan.spring', text, 1);
    const { problems, silenced, appliances } = (await workspace.snapshot('file:///plan.spring'))!;
    return { path: 'plan.spring', text, problems, silenced, appliances };
  };
  const options = { version: '0', model: 'full' } as const;

  it('carries the plan where it is asked for, to the published schema', async () => {
    const report = buildAnalyzeReport([await input()], { ...options, plan: true });
    const schema = JSON.parse(readFileSync(resolve(import.meta.dirname, '../../server/report.schema.json'), 'utf8'));
    const validate = new Ajv2020({ strict: true }).compile(schema);
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(report.files[0].appliances[0].plan?.bends[0]).toMatchObject({ number: 1, line: 6, direction: 'gingival' });
    const text = analyzeText(report, { units: { force: 'gf' }, paint: plain });
    expect(text).toContain('Bending plan');
    expect(text).toMatch(/^ +1 +bend +25\.0 .* 90 up .* toward gingival, line 6$/m);
  });

  it('is as before where it is not', async () => {
    const report = buildAnalyzeReport([await input()], options);
    expect(report.files[0].appliances[0]).not.toHaveProperty('plan');
    expect(analyzeText(report, { units: { force: 'gf' }, paint: plain })).not.toContain('Bending plan');
  });
});

/** The bench: bending happens at the origin; finished wire lies toward -x, stock toward +x; up is +y. */
function bentBy(plan: ReportPlan): Particle[] {
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
function passive({ elements }: ApplianceDesign, mirrored: boolean): Particle[] {
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
function mismatch(bent: Particle[], wanted: Particle[], holding: number): { distance: number; angle: number } {
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
