/**
 * The examples are the contract: each is formatted to itself, computed, meets its own requirements and
 * gives the report that stands recorded beside it in examples/reports. After a change that is meant to
 * change results: `UPDATE=1 npx vitest run tests/examples`, and a line in the changelog.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { format } from '#grammar/printer';
import { DIAGNOSTICS } from '#model/diagnostics/catalogue';
import { plain } from '#report/paint';
import { buildAnalyzeReport } from '#report/report';
import { analyzeText } from '#report/text';
import { createWorkspace } from '#workspace/workspace';

const examples = resolve(import.meta.dirname, '../../examples');

const springFiles = (folder: string) =>
  readdirSync(join(examples, folder))
    .filter((name) => name.endsWith('.spring'))
    .sort();

async function snapshotOf(path: string) {
  const workspace = createWorkspace({ readFile: async () => undefined });
  const uri = pathToFileURL(join(examples, path)).href;
  workspace.open(uri, readFileSync(join(examples, path), 'utf8'), 1);
  return (await workspace.snapshot(uri))!;
}

describe.each(springFiles('.'))('examples/%s', (name) => {
  it('is formatted', () => {
    const text = readFileSync(join(examples, name), 'utf8');
    expect(format(text)).toBe(text);
  });

  it('says what to look at', async () => {
    const { file } = await snapshotOf(name);
    for (const appliance of file.appliances) expect(appliance.node.doc).toContain('Look at');
  });

  it('has no error and no warning, and meets its requirements', async () => {
    const { problems, appliances } = await snapshotOf(name);
    expect(problems.filter(({ severity }) => severity !== 'information')).toEqual([]);
    const verdicts = appliances.flatMap(({ verdicts }) => verdicts);
    expect(verdicts.length).toBeGreaterThan(0);
    expect(verdicts.filter(({ outcome }) => outcome !== 'met')).toEqual([]);
  });

  it('gives its recorded report', async () => {
    const path = `examples/${name}`;
    const units = { force: 'gf' } as const;
    const report = buildAnalyzeReport([{ path, ...(await snapshotOf(name)) }], {
      version: '0',
      model: 'full',
    });
    const text = analyzeText(report, { units, paint: plain });
    const recorded = join(examples, 'reports', name.replace('.spring', '.txt'));
    if (process.env.UPDATE === '1') writeFileSync(recorded, text);
    expect(text).toBe(readFileSync(recorded, 'utf8'));
  });
});

it('every diagnostic has a file in examples/errors, named after it', () => {
  const shown = springFiles('errors').map((name) => name.replace('.spring', ''));
  expect([...DIAGNOSTICS.keys()].filter((code) => !shown.includes(code))).toEqual([]);
});

describe.each(springFiles('errors'))('examples/errors/%s', (name) => {
  it('shows the finding that it is named after', async () => {
    const { problems } = await snapshotOf(`errors/${name}`);
    expect(problems.map(({ code }) => code)).toContain(name.replace('.spring', ''));
  });
});
