/**
 * The bending plan against a simulated bench, which must give the passive shape back, and its rows, warnings and order
 * against what is known of them.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { uniformNumbers } from '#core/math/random';
import { type Vec3, zeroVector } from '#core/math/vector';
import { isMirrored, USUAL_BENCH } from '#model/bending/bending-plan';
import { reportPlan } from '#report/bending-plan';
import { plain } from '#report/paint';
import type { ReportPlan } from '#report/plan-schema';
import { buildAnalyzeReport } from '#report/report';
import { analyzeText } from '#report/text';
import { createWorkspace } from '#workspace/workspace';
import { bentBy, mismatch, passive } from './simulated-bench';

/** Chords of the bench lie inside their arcs by radius × 0.05² / 8, mm, for arcs of up to 60 mm that is 0.02. */
const BENCH = 0.02;

const examples = resolve(import.meta.dirname, '../../examples');

async function appliancesOf(text: string, uri = 'file:///plan.spring') {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, text, 1);
  return (await workspace.snapshot(uri))!.appliances;
}

const planOf = async (text: string, index = 0) =>
  reportPlan((await appliancesOf(text))[index], () => ({ line: 1, column: 1 }), USUAL_BENCH)!;

describe.each(readdirSync(examples).filter((name) => name.endsWith('.spring')))('the plan of examples/%s', (name) => {
  it('gives the passive shape back within 0.1 mm and 0.5 deg', async () => {
    const path = join(examples, name);
    const appliances = await appliancesOf(readFileSync(path, 'utf8'), pathToFileURL(path).href);
    expect(appliances.length).toBeGreaterThan(0);
    for (const evaluated of appliances) {
      const plan = reportPlan(evaluated, () => ({ line: 1, column: 1 }), USUAL_BENCH)!;
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
    const plan = reportPlan(evaluated, () => ({ line: 1, column: 1 }), USUAL_BENCH)!;
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
    expect(plan.trialActivation).toBe(4.5);
  });
});

describe('any wire', () => {
  it('comes back as it was, also one that no part of the library is like (seeded)', async () => {
    const random = uniformNumbers(5);
    const between = (low: number, high: number): number => low + (high - low) * random();
    const [evaluated] = await appliancesOf(wire('bend 90 deg toward gingival radius 1 mm'));
    const { appliance } = evaluated;
    for (let wires = 0; wires < 12; wires++) {
      const elements = Array.from({ length: 8 }, () => {
        const kind = random();
        const around = between(0, 2 * Math.PI);
        // Bends in any plane, sharp corners about any axis, twists, and coils.
        const angle = kind < 0.8 ? between(0.05, 2.6) : between(7, 12);
        const along = kind < 0.5 ? 0 : between(-0.5, 0.5);
        const twisted = kind > 0.7 && kind < 0.8;
        const turn: Vec3 = twisted ? [along, 0, 0] : [along, angle * Math.sin(around), angle * Math.cos(around)];
        const sharp = kind > 0.5 && kind < 0.7;
        const length = sharp ? 0 : twisted ? between(1, 4) : angle * between(0.7, 2);
        return [
          { length: between(1, 8), shape: zeroVector, preactivation: zeroVector },
          { length, shape: turn, preactivation: zeroVector },
        ];
      }).flat();
      const design = { ...appliance.design!, elements };
      const made = { ...evaluated, analysis: undefined, appliance: { ...appliance, design, steps: [] } };
      const plan = reportPlan(made, () => ({ line: 1, column: 1 }), USUAL_BENCH)!;
      const { distance, angle } = mismatch(bentBy(plan), passive(design, false), plan.holding);
      expect(distance).toBeLessThanOrEqual(0.1);
      expect(angle).toBeLessThanOrEqual(0.5);
    }
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
    const report = buildAnalyzeReport([await input()], { ...options, plan: USUAL_BENCH });
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
