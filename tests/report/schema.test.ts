import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { buildAnalyzeReport, buildCheckReport } from '#report/report';
import { analyzeReport, checkReport, reportJsonSchema } from '#report/schema';
import { evaluatedFile } from './synthetic';

const file = resolve(import.meta.dirname, '../../server/report.schema.json');
const options = { version: '0.0.0', model: 'full' } as const;
const generated = `${JSON.stringify(reportJsonSchema(), undefined, 2)}\n`;
if (process.env.UPDATE === '1') writeFileSync(file, generated);

const inputs = [evaluatedFile(), { path: 'broken.spring', unreadable: 'is a binary file, not text' }];

describe('the JSON Schema', () => {
  it('in the repository is the one that the code stands for (UPDATE=1 writes it anew)', () => {
    expect(readFileSync(file, 'utf8')).toBe(generated);
  });

  const validate = new Ajv2020({ strict: true, allErrors: true }).compile(JSON.parse(readFileSync(file, 'utf8')));

  it('takes both reports', () => {
    expect(validate(buildAnalyzeReport(inputs, options)), JSON.stringify(validate.errors)).toBe(true);
    expect(validate(buildCheckReport(inputs, options)), JSON.stringify(validate.errors)).toBe(true);
  });

  it('refuses what the contract does not promise', () => {
    const report = buildAnalyzeReport(inputs, options);
    expect(validate({ ...report, schemaVersion: 2 })).toBe(false);
    expect(validate({ ...report, extra: true })).toBe(false);
    expect(validate({ ...report, command: 'check' })).toBe(false);
    const [first] = report.files;
    expect(validate({ ...report, files: [{ ...first, problems: [{ ...first.problems[0], line: 0 }] }] })).toBe(false);
    expect(
      validate({ ...report, files: [{ ...first, appliances: [{ ...first.appliances[0], status: 'odd' }] }] }),
    ).toBe(false);
  });

  it('says the same as the schema in the code', () => {
    expect(analyzeReport.safeParse(buildAnalyzeReport(inputs, options)).success).toBe(true);
    expect(checkReport.safeParse(buildCheckReport(inputs, options)).success).toBe(true);
  });
});
