/** What the README shows is true. */
import { cpSync, existsSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { format } from '#grammar/printer';
import { createWorkspace } from '#workspace/workspace';
import { buildCommand, type Command } from '../cli/command';

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

  it('names commands that package.json has', () => {
    const { scripts } = JSON.parse(readFileSync(resolve(root, 'package.json'), 'utf8')) as {
      scripts: Record<string, string>;
    };
    const named = [...readme.matchAll(/npm (?:run )?(start|test|[a-z:]+)\b/g)].map(([, name]) => name);
    expect(named.filter((name) => name !== 'ci' && name !== 'registry' && !(name in scripts))).toEqual([]);
  });

  describe('on the command line', () => {
    let command: Command;
    beforeAll(async () => {
      command = await buildCommand('handout');
      cpSync(resolve(root, 'examples'), join(command.folder, 'examples'), { recursive: true });
    });
    afterAll(() => command.remove());

    const lines = [...readme.matchAll(/^node dist\/springwright\.cjs (.+)$/gm)].map(([, line]) => line);

    it.each(lines)('runs %s', (line) => {
      const { code, out, err } = command.run(...line.split(' '));
      // The folder of examples holds some that show errors.
      expect([err, code]).toEqual(['', line.endsWith(' examples') ? 1 : 0]);
      const written = / -o (\S+)$/.exec(line)?.[1];
      if (written !== undefined) expect(statSync(join(command.folder, written)).size).toBeGreaterThan(1000);
      else if (!line.startsWith('format --check')) expect(out).not.toBe('');
    });
  });
});
