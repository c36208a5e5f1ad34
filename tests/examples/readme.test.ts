/** What the README shows is true. */
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { format } from '#grammar/printer';
import { createWorkspace } from '#workspace/workspace';

const root = resolve(import.meta.dirname, '../..');
const readme = readFileSync(resolve(root, 'README.md'), 'utf8');
const blocks = [...readme.matchAll(/```spring\n([\s\S]*?)```/g)].map(([, text]) => text);

describe('the README', () => {
  it('explains a file that is formatted, without findings, and meets its requirements', async () => {
    expect(blocks).toHaveLength(1);
    const [text] = blocks;
    expect(format(text)).toBe(text);
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open('file:///first.spring', text, 1);
    const snapshot = (await workspace.snapshot('file:///first.spring'))!;
    expect(snapshot.problems.filter(({ severity }) => severity !== 'information')).toEqual([]);
    expect(snapshot.appliances[0].verdicts.map(({ outcome }) => outcome)).toEqual(['met', 'met']);
  });

  it('links to files that are there', () => {
    const links = [...readme.matchAll(/\]\((?!https?:)([^)#]+)\)/g)].map(([, path]) => path);
    expect(links.length).toBeGreaterThan(8);
    expect(links.filter((path) => !existsSync(resolve(root, path)))).toEqual([]);
  });
});
