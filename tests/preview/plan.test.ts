import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { defaultSettings } from '#features/settings';
import { previewContent } from '#preview/content';
import { createWorkspace } from '#workspace/workspace';

const uri = 'file:///t-loop.spring';
const text = readFileSync(resolve(import.meta.dirname, '../../examples/03-t-loop.spring'), 'utf8');

it('sends the bending plan when the page asks for it, with a drawing for each step', async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, text, 1);
  const snapshot = (await workspace.snapshot(uri))!;
  expect(previewContent(snapshot, { uri }, defaultSettings).plan).toBeUndefined();
  const plan = previewContent(snapshot, { uri, plan: true }, defaultSettings).plan!;
  // Two gables, and the T loop's eight quarter turns.
  expect(plan.rows).toHaveLength(10);
  for (const row of plan.rows) expect(row).toHaveLength(plan.headings.length);
  expect(plan.steps.map(({ label }) => label)).toEqual(
    [6, 7, 8, 9, 5, 4, 3, 2, 10, 1].map((bend, index) => `Step ${index + 1} of 10: bend ${bend}`),
  );
  for (const { svg } of plan.steps) {
    expect(svg).toMatch(/^<svg [^>]*role="img"/);
    expect(svg).not.toMatch(/style=|<style|NaN|<script/);
  }
  expect(plan.caution).toContain('licensed practice');
});

it('keeps back the plan of an earlier text', async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, text, 1);
  await workspace.snapshot(uri);
  workspace.open(uri, text.replace('straight 5 mm', 'straight far'), 2);
  const snapshot = (await workspace.snapshot(uri))!;
  expect(snapshot.appliances[0].stale).toBe(true);
  expect(previewContent(snapshot, { uri, plan: true }, defaultSettings).plan).toBeUndefined();
});
