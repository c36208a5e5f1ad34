/** A file taken out of its folders comes to the same, and tells nothing of where it lay. */
import { expect, it } from 'vitest';
import { selfContained } from '#workspace/self-contained';
import { createWorkspace } from '#workspace/workspace';

const files: Record<string, string> = {
  'file:///of-somebody/clinic%20a/lessons/first/lesson.spring': `use "alloys"
use "../shared/arms.spring"
appliance lesson {
  wire 0.016 in x 0.022 in of steel
  path running mesial { straight 4 mm seat molar arm() seat canine straight 4 mm }
  tube molar length 4 mm
  bracket canine width 3 mm
}
`,
  'file:///of-somebody/clinic%20a/lessons/shared/arms.spring': `use "./sizes.spring"
part arm() { straight reach preactivate 10 deg toward gingival straight reach }
`,
  'file:///of-somebody/clinic%20a/lessons/shared/sizes.spring': 'let reach = 6 mm\n',
};

async function snapshotOf(uri: string, texts: Readonly<Record<string, string>>) {
  const workspace = createWorkspace({ readFile: async (asked) => texts[asked] });
  workspace.open(uri, texts[uri], 1);
  return (await workspace.snapshot(uri))!;
}

it('keeps what it uses at its place beside it', async () => {
  const [uri] = Object.keys(files);
  const original = await snapshotOf(uri, files);
  const { uri: placed, modules } = selfContained(original);
  expect(placed).toBe('file:///first/lesson.spring');
  expect(Object.keys(modules).sort()).toEqual(['file:///shared/arms.spring', 'file:///shared/sizes.spring']);
  expect(JSON.stringify([placed, modules])).not.toMatch(/somebody|clinic/);
  const again = await snapshotOf(placed, { ...modules, [placed]: original.text });
  expect(again.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  expect(again.appliances[0].analysis!.stages).toEqual(original.appliances[0].analysis!.stages);
});

it('keeps a file that uses none, whatever its address is like', async () => {
  for (const [uri, placed] of [
    ['file:///a.spring', 'file:///a.spring'],
    ['memfs:/case/a.spring', 'file:///a.spring'],
    ['untitled:Untitled-1', 'file:///Untitled-1'],
  ]) {
    expect(selfContained(await snapshotOf(uri, { [uri]: 'use "alloys"\nuse "./gone.spring"\n' }))).toEqual({
      uri: placed,
      modules: {},
    });
  }
});
