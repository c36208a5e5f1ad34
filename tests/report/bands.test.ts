/** Bands and assumptions in the report: under the right names and signs, and to the published schema. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { plain } from '#report/paint';
import { buildAnalyzeReport } from '#report/report';
import type { ReportAppliance } from '#report/schema';
import { analyzeText } from '#report/text';
import { createWorkspace } from '#workspace/workspace';

const root = resolve(import.meta.dirname, '../..');

/** A V bend of a made-up alloy whose figures have ranges of ten per cent, sources of every kind and none. */
const text = `alloy made_up {
  modulus = 100 GPa in 90 GPa .. 110 GPa source found "a made-up table"
  poisson = 0.3 source memory "someone"
  yield = 1000 MPa in 900 MPa .. 1100 MPa source computed
  inner_radius = 1
}
section made_up_size = 0.4 mm x 0.6 mm source practice
appliance v_bend {
  wire made_up_size of made_up
  path running mesial {
    straight 9 mm
    seat molar
    straight 6 mm
    preactivate 10 deg toward gingival
    straight 9 mm
    seat canine
    straight 9 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 0.2 mm step 0.1 mm
  require at activation 0.1 mm { canine.moment.total >= 0 N mm }
}
`;

let appliance: ReportAppliance;
let printed: string;
let json: unknown;

beforeAll(async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open('file:///v.spring', text, 1);
  const snapshot = await workspace.withBands((await workspace.snapshot('file:///v.spring'))!);
  const report = buildAnalyzeReport(
    [
      {
        path: 'v.spring',
        text,
        problems: snapshot.problems,
        silenced: snapshot.silenced,
        appliances: snapshot.appliances,
      },
    ],
    { version: '0', model: 'full' },
  );
  json = report;
  appliance = report.files[0].appliances[0];
  printed = analyzeText(report, { units: { force: 'gf' }, paint: plain });
});

describe('bands', () => {
  it('hold to the published schema', () => {
    const schema = JSON.parse(readFileSync(resolve(root, 'server/report.schema.json'), 'utf8'));
    const validate = new Ajv2020({ strict: true }).compile(schema);
    expect(validate(json), JSON.stringify(validate.errors)).toBe(true);
  });

  it('are of the working activation and name what scatters, by how much, where and on whose word', () => {
    const { bands } = appliance;
    expect(bands?.activation).toBe(0.1);
    expect(bands?.parameters.map(({ label, line, low, high, state }) => [label, line, low, high, state])).toEqual([
      ['modulus of made_up', null, '-10 GPa', '10 GPa', 'found'],
      ['yield of made_up', null, '-100 MPa', '100 MPa', 'computed'],
      ['height of the wire', null, '-0.005 mm', '0.005 mm', 'practice'],
      ['width of the wire', null, '-0.005 mm', '0.005 mm', 'practice'],
      ['straight of 6 mm', 13, '-0.25 mm', '0.25 mm', 'practice'],
      ['preactivation of 10 deg toward gingival', 14, '-2 deg', '2 deg', 'practice'],
      ['straight of 9 mm', 15, '-0.25 mm', '0.25 mm', 'practice'],
    ]);
    expect(bands?.wires.unsolved).toBe(0);
  });

  it('lie about their figures, and those of both teeth mirror each other in force', () => {
    const stage = appliance.stages.find(({ activation }) => activation === 0.1)!;
    const [molar, canine] = appliance.bands!.loads;
    // Each tooth's forces come from its own end of the wire: the default accuracy is 0.05 % of the largest (mechanics note).
    const accuracy = 5e-4 * stage.state!.loads[1].force.total;
    for (const axis of ['mesial', 'gingival'] as const) {
      const value = stage.state!.loads[1].force[axis];
      expect(canine.force[axis].low).toBeLessThan(value);
      expect(canine.force[axis].high).toBeGreaterThan(value);
      expect(Math.abs(canine.force[axis].low + molar.force[axis].high)).toBeLessThan(accuracy);
    }
    // It stays in its plane.
    expect(canine.force.buccal).toMatchObject({ low: 0, high: 0, contributions: [] });
    const { low, high } = appliance.bands!.neutral!;
    expect(low).toBeLessThan(appliance.neutral!.motion);
    expect(high).toBeGreaterThan(appliance.neutral!.motion);
  });

  it('name what makes most of them: the bend, of the couple that it is made for', () => {
    const { loads, parameters } = appliance.bands!;
    const [first] = loads[0].moment.buccal.contributions;
    expect(parameters[first.parameter].label).toBe('preactivation of 10 deg toward gingival');
    expect(first.share).toBeGreaterThan(0.3);
  });

  it('are printed with value and band in one unit, named by the sense in which the figure acts', () => {
    expect(printed).toContain('Bands at 0.1 mm of activation, about 19 of 20 wires');
    expect(printed).toMatch(
      /molar +crown-distal +\d+ gf mm \(\d+ \.\. \d+\).* % preactivation of 10 deg toward gingival, line 14/,
    );
    expect(printed).toMatch(/wire +elastic use +[\d.]+ \([\d.]+ \.\. [\d.]+\)/);
  });
});

describe('assumptions', () => {
  it('carry value, range and how each is known', () => {
    const listed = appliance.assumptions.map(({ name, value, low, high, state, reference }) => [
      ...[name, value, low, high, state, reference],
    ]);
    expect(listed.slice(0, 7)).toEqual([
      ['modulus of made_up', '100 GPa', '90 GPa', '110 GPa', 'found', 'a made-up table'],
      ['poisson of made_up', '0.3', null, null, 'memory', 'someone'],
      ['yield of made_up', '1000 MPa', '900 MPa', '1100 MPa', 'computed', null],
      ['inner radius of made_up', '1', null, null, 'unstated', null],
      ['height of made_up_size', '0.4 mm', null, null, 'practice', null],
      ['width of made_up_size', '0.6 mm', null, null, 'practice', null],
      expect.arrayContaining(['radius of the wire’s edges', '0 mm', 'unstated']),
    ]);
    expect(listed.map(([name]) => name)).toContain('angle of a bend or twist, bent by hand');
  });

  it('are printed', () => {
    expect(printed).toMatch(/modulus of made_up +100 GPa \(90 GPa \.\. 110 GPa\) +found: a made-up table/);
    expect(printed).toMatch(/inner radius of made_up +1 +no source stated/);
    expect(printed).toMatch(/length of a straight, bent by hand +± 0\.25 mm +common practice/);
  });
});
