/** What the editor saves: a name and the bytes of a file, or why there is none. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { papers } from '#export/formats';
import { defaultSettings } from '#features/settings';
import { exportResult } from '#lsp/export';
import { createWorkspace } from '#workspace/workspace';

const text = readFileSync(resolve(import.meta.dirname, '../../examples/04-intrusion-cantilever.spring'), 'utf8');
const uri = 'file:///a.spring';

async function exported(written: string, format: Parameters<typeof exportResult>[1]['format'], appliance?: string) {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, written, 1);
  const snapshot = (await workspace.snapshot(uri))!;
  return exportResult(snapshot, { uri, format, paper: papers[0], path: 'a.spring', appliance }, defaultSettings);
}

const begins = ({ file }: Awaited<ReturnType<typeof exported>>) =>
  Buffer.from(file?.base64 ?? '', 'base64')
    .subarray(0, 5)
    .toString('latin1');

it('gives each format a name of its own', async () => {
  for (const [format, name, start] of [
    ['svg', 'intrusion_cantilever.svg', '<?xml'],
    ['template', 'intrusion_cantilever-template.svg', '<?xml'],
    ['dxf', 'intrusion_cantilever.dxf', '0\nSEC'],
    ['shapes', 'intrusion_cantilever-shapes.csv', 'shape'],
    ['sheet', 'intrusion_cantilever.pdf', '%PDF-'],
    ['card', 'intrusion_cantilever-card.pdf', '%PDF-'],
  ] as const) {
    const result = await exported(text, format);
    expect([result.file?.name, begins(result), result.failure]).toEqual([name, start, undefined]);
  }
});

it('says why there is nothing to save', async () => {
  expect((await exported(text, 'curves')).failure).toBe('Nothing is activated here, so that there are no curves.');
  expect((await exported('use "alloys"\n', 'sheet')).failure).toBe('This file has no appliance yet.');
  const { file, failure } = await exported(text.replace(/straight \d+(\.\d+)? mm/, 'straight 5 deg'), 'sheet');
  expect(file).toBeUndefined();
  expect(failure).toMatch(/length/);
});

it('makes a handout of the whole file with the page that it is given', async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, text, 1);
  const params = { uri, format: 'handout', paper: papers[0], path: 'lessons/a.spring' } as const;
  const snapshot = (await workspace.snapshot(uri))!;
  const built = { script: 'start()', style: '.a {}' };
  const { file, failure } = await exportResult(snapshot, { ...params, built }, defaultSettings);
  expect([file?.name, failure]).toEqual(['a.html', undefined]);
  const page = Buffer.from(file!.base64, 'base64').toString('utf8');
  const content = JSON.parse(/id="handout">([^<]*)</.exec(page)![1]);
  expect(content).toEqual({ name: 'a.spring', text, units: 'gf', uri, modules: {} });
  expect(page).toContain('<script>start()</script>');
  expect((await exportResult(snapshot, params, defaultSettings)).failure).toBe('The page to fill is missing.');
});
