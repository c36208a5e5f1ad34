import { describe, expect, it } from 'vitest';
import { createWorkspace, type Workspace } from '#workspace/workspace';
import { loop, vBend } from '../features/samples';

const uri = 'file:///files/appliance.spring';
const partsUri = 'file:///files/parts.spring';
const parts = 'let reach = 3 mm\n';
const user = (module: string): string => `use "${module}"\nlet twice = 2 * reach\n`;

describe('workspace', () => {
  it('parses once per text and solves once per set of numbers', async () => {
    const workspace = workspaceOf({});
    workspace.open(uri, loop, 1);
    await workspace.snapshot(uri);
    const before = workspace.effort;
    expect(before.solves).toBe(1);

    await workspace.snapshot(uri);
    expect(workspace.effort).toEqual(before);

    workspace.open(uri, loop.replace('An open vertical loop.', 'Another comment.'), 2);
    await workspace.snapshot(uri);
    expect(workspace.effort).toEqual({ parses: before.parses + 1, solves: before.solves });

    workspace.open(uri, loop.replace('gable = 15 deg', 'gable = 16 deg'), 3);
    await workspace.snapshot(uri);
    expect(workspace.effort).toEqual({ parses: before.parses + 2, solves: before.solves + 1 });

    workspace.open(uri, loop, 4);
    await workspace.snapshot(uri);
    expect(workspace.effort.solves).toBe(before.solves + 1);
  });

  it('gives the same snapshot until something changes', async () => {
    const workspace = workspaceOf({});
    workspace.open(uri, vBend, 1);
    const first = await workspace.snapshot(uri);
    expect(await workspace.snapshot(uri)).toBe(first);
    workspace.open(uri, `${vBend}// more\n`, 2);
    const second = await workspace.snapshot(uri);
    expect(second).not.toBe(first);
    expect(first?.text).toBe(vBend);
  });

  it('keeps the last good analysis while the text is broken', async () => {
    const workspace = workspaceOf({});
    workspace.open(uri, vBend, 1);
    const good = (await workspace.snapshot(uri))?.appliances[0];
    expect(good?.analysis).toBeDefined();
    expect(good?.stale).toBe(false);

    workspace.open(uri, vBend.replace('straight far', 'straight fra'), 2);
    const broken = (await workspace.snapshot(uri))?.appliances[0];
    expect(broken?.stale).toBe(true);
    expect(broken?.analysis).toBe(good?.analysis);
    expect(broken?.design).toBe(good?.design);
    expect(broken?.verdicts.map(({ outcome }) => outcome)).toEqual(good?.verdicts.map(({ outcome }) => outcome));

    workspace.open(uri, '@@@', 3);
    expect((await workspace.snapshot(uri))?.appliances[0]).toMatchObject({ stale: true, analysis: good?.analysis });

    workspace.open(uri, vBend, 4);
    expect((await workspace.snapshot(uri))?.appliances[0].stale).toBe(false);
  });

  it('keeps it also while an auxiliary wire of the same teeth is broken', async () => {
    const workspace = workspaceOf({});
    const both = `${vBend}auxiliary spring of v_bend at molar 3 mm gingival {
  wire round 0.016 in of steel
  path running mesial { straight 4 mm seat molar straight 20 mm seat front straight 2 mm }
  tube molar length 4 mm
  hook front at 20 mm mesial 0.2 mm gingival
}
`;
    workspace.open(uri, both, 1);
    const [good, spring] = (await workspace.snapshot(uri))?.appliances ?? [];
    expect(spring.analysis?.failure).toBeUndefined();
    workspace.open(uri, both.replace('0.016 in of steel', '0.016 in of stee'), 2);
    const broken = (await workspace.snapshot(uri))?.appliances[0];
    expect(broken).toMatchObject({ stale: true, analysis: good.analysis, further: good.further, problems: [] });
    workspace.open(uri, both, 3);
    expect((await workspace.snapshot(uri))?.appliances[0]).toMatchObject({ stale: false, analysis: good.analysis });
  });

  it('reads what a file uses, once', async () => {
    const asked: string[] = [];
    const workspace = createWorkspace({
      readFile: async (file) => {
        asked.push(file);
        return file === partsUri ? parts : undefined;
      },
    });
    workspace.open(uri, `${user('./parts.spring')}use "./missing.spring"\n`, 1);
    const snapshot = await workspace.snapshot(uri);
    await workspace.snapshot(uri);
    expect(asked).toEqual([partsUri, 'file:///files/missing.spring']);
    // By hand: 2 × 3 mm.
    expect(snapshot?.file.scope.get('twice')?.value?.value).toBe(6);
    expect(snapshot?.problems.map(({ code }) => code)).toEqual(['module-not-found']);
    expect(snapshot?.module(partsUri)?.text).toBe(parts);
  });

  it('sees a module change, on disk and in the editor', async () => {
    const files: Record<string, string> = { [partsUri]: parts };
    const workspace = workspaceOf(files);
    workspace.open(uri, user('./parts.spring'), 1);
    const twice = async (): Promise<number | undefined> =>
      (await workspace.snapshot(uri))?.file.scope.get('twice')?.value?.value;
    expect(await twice()).toBe(6);
    expect(workspace.dependents(partsUri)).toEqual([uri]);
    expect(workspace.dependents(uri)).toEqual([]);

    files[partsUri] = 'let reach = 4 mm\n';
    expect(await twice()).toBe(6);
    workspace.forget(partsUri);
    expect(await twice()).toBe(8);

    workspace.open(partsUri, 'let reach = 5 mm\n', 1);
    expect(await twice()).toBe(10);
    workspace.forget(partsUri);
    expect(await twice()).toBe(10);
    workspace.close(partsUri);
    expect(await twice()).toBe(8);

    delete files[partsUri];
    workspace.forget(partsUri);
    expect(await twice()).toBeUndefined();
    files[partsUri] = parts;
    workspace.forget(partsUri);
    expect(await twice()).toBe(6);
  });

  it('reports files that use each other in a circle at both use lines', async () => {
    const other = 'file:///files/other.spring';
    const workspace = workspaceOf({ [other]: 'use "./appliance.spring"\nlet b = 1 mm\n' });
    workspace.open(uri, 'use "./other.spring"\nlet a = 1 mm\n', 1);
    expect((await workspace.snapshot(uri))?.problems.map(({ code }) => code)).toEqual(['module-cycle']);
    expect((await workspace.snapshot(other))?.problems.map(({ code }) => code)).toEqual(['module-cycle']);
    workspace.open(uri, 'use "./appliance.spring"\n', 2);
    expect((await workspace.snapshot(uri))?.problems.map(({ code }) => code)).toEqual(['module-cycle']);
  });

  it('knows a document under every spelling of its uri', async () => {
    const workspace = workspaceOf({});
    workspace.open('file:///c%3A/a%20b/parts.spring', parts, 1);
    workspace.open('file:///c:/a b/appliance.spring', user('./parts.spring'), 1);
    const snapshot = await workspace.snapshot('file:///c%3A/a%20b/appliance.spring');
    expect(snapshot?.problems).toEqual([]);
    expect(snapshot?.uri).toBe('file:///c:/a b/appliance.spring');
  });

  it('lives with files that cannot be read and documents that are not there', async () => {
    const workspace = createWorkspace({ readFile: () => Promise.reject(new Error('no permission')) });
    expect(await workspace.snapshot(uri)).toBeUndefined();
    workspace.close(uri);
    workspace.open(uri, user('../../../../../up.spring'), 1);
    expect((await workspace.snapshot(uri))?.problems[0].code).toBe('module-not-found');
  });

  it('takes any text', async () => {
    const workspace = workspaceOf({});
    for (const [index, text] of ['', '\uFEFF', '\r\n\r\n', '\uD800', '🦷 use', '}{', '"'.repeat(99)].entries()) {
      workspace.open(uri, text, index);
      const snapshot = await workspace.snapshot(uri);
      expect(snapshot?.text).toBe(text);
      for (const { span } of snapshot?.problems ?? []) {
        expect(span.start).toBeGreaterThanOrEqual(0);
        expect(span.end).toBeLessThanOrEqual(text.length);
      }
    }
  });
});

function workspaceOf(files: Record<string, string>): Workspace {
  return createWorkspace({ readFile: async (file) => files[file] });
}
