/** The contract, held by the reports of all examples, right and wrong ones. */
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { plain } from '#report/paint';
import { buildAnalyzeReport, buildCheckReport, type ReportInput } from '#report/report';
import { analyzeText } from '#report/text';
import { createWorkspace } from '#workspace/workspace';

const root = resolve(import.meta.dirname, '../..');
const options = { version: '0.0.0', model: 'full' } as const;
const inputs: ReportInput[] = [];

beforeAll(async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  for (const folder of ['examples', 'examples/errors']) {
    for (const name of readdirSync(resolve(root, folder)).filter((file) => file.endsWith('.spring'))) {
      const path = `${folder}/${name}`;
      const uri = `file:///${path}`;
      workspace.open(uri, readFileSync(resolve(root, path), 'utf8'), 1);
      const snapshot = await workspace.snapshot(uri);
      inputs.push({ path, ...snapshot! });
    }
  }
});

describe('the reports of the examples', () => {
  it('hold to the published schema', () => {
    const schema = JSON.parse(readFileSync(resolve(root, 'server/report.schema.json'), 'utf8'));
    const validate = new Ajv2020({ strict: true, allErrors: true }).compile(schema);
    for (const report of [buildAnalyzeReport(inputs, options), buildCheckReport(inputs, options)]) {
      expect(report.files.length).toBeGreaterThan(10);
      expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    }
  });

  it('balance: the forces on all teeth add up to nothing, to what the solver states', () => {
    const states = buildAnalyzeReport(inputs, options).files.flatMap(({ appliances }) =>
      appliances
        // Round an arch each tooth has directions of its own; tests/model/arch.test.ts adds up in the arch's frame.
        .filter(({ site }) => site.kind === 'quadrant')
        .flatMap(({ name, auxiliaries, stages }) => {
          // All wires of an appliance are in balance together: what its auxiliaries do elsewhere is added.
          const further = appliances.filter(({ auxiliaryOf }) => auxiliaryOf === name);
          const elsewhere = further.flatMap(({ name: other, stages: [stage] }) =>
            (stage?.state?.loads ?? []).filter(
              ({ attachment }) => !auxiliaries.find((one) => one.name === other)?.shares.includes(attachment),
            ),
          );
          return stages.flatMap(({ state }) => (state ? [{ ...state, loads: [...state.loads, ...elsewhere] }] : []));
        }),
    );
    expect(states.length).toBeGreaterThan(10);
    for (const { loads, residual } of states) {
      const largest = Math.max(...loads.map(({ force }) => force.total));
      for (const direction of ['mesial', 'gingival', 'buccal'] as const) {
        const sum = loads.reduce((total, { force }) => total + force[direction], 0);
        // The solver's stated residual (one digit, so up to half as much again), and for each of the summands seven
        // significant digits and nothing below 1e-7 N.
        expect(Math.abs(sum)).toBeLessThanOrEqual(1.5 * residual.force + loads.length * (largest * 1e-6 + 1e-7));
      }
    }
  });

  it('are text without a number that is none', () => {
    const text = analyzeText(buildAnalyzeReport(inputs, options), { units: { force: 'gf' }, paint: plain });
    expect(text).not.toMatch(/NaN|Infinity|undefined|\[object|null/);
  });
});
