/** Every step of the tutorial is a file that can be typed in: formatted, solved, without errors, and what it claims holds. */
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { format } from '#grammar/printer';
import { createWorkspace } from '#workspace/workspace';

const folder = resolve(import.meta.dirname, '../../examples');
const tutorial = readFileSync(resolve(folder, 'tutorial.md'), 'utf8');
const steps = [...tutorial.matchAll(/^## (.+)$[\s\S]*?```spring\n([\s\S]*?)```/gm)].map(([, title, text]) => ({
  title,
  text,
}));

describe('the tutorial', () => {
  it('has a file in each of its sections', () => {
    expect(steps).toHaveLength(5);
    expect(tutorial.match(/^## /gm)).toHaveLength(5);
    expect(tutorial.match(/```spring/g)).toHaveLength(5);
  });

  it.each(steps)('$title: is laid out, solved and free of errors, and meets its requirements', async ({ text }) => {
    expect(format(text)).toBe(text);
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open('file:///first.spring', text, 1);
    const snapshot = (await workspace.snapshot('file:///first.spring'))!;
    expect(snapshot.problems.filter(({ severity }) => severity === 'error' || severity === 'warning')).toEqual([]);
    expect(snapshot.appliances.length).toBeGreaterThan(0);
    for (const { analysis, verdicts } of snapshot.appliances) {
      expect(analysis?.failure).toBeUndefined();
      expect(analysis?.stages.every(({ state }) => state !== undefined)).toBe(true);
      expect(
        verdicts.map(({ text, actualText, outcome }) => `${text}: ${outcome === 'met' ? outcome : actualText}`),
      ).toEqual(verdicts.map(({ text }) => `${text}: met`));
      expect(verdicts.length).toBeGreaterThan(0);
    }
  });

  it('links to files that are there', () => {
    const links = [...tutorial.matchAll(/\]\((?!https?:)([^)#]+)\)/g)].map(([, path]) => path);
    expect(links.length).toBeGreaterThan(3);
    expect(links.filter((path) => !existsSync(resolve(folder, path)))).toEqual([]);
  });
});
