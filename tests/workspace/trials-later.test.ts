/** What a trial activation would change, where the file asks for none, comes later in the editor and is the same then. */
import { expect, it } from 'vitest';
import { createWorkspace } from '#workspace/workspace';

const uri = 'file:///yields.spring';

/** A steel wire whose V bend yields at its largest stage. */
const text = (requirement = 'molar.force.total <= 90 N') => `use "alloys"
appliance v_bend {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 9 mm
    seat molar
    straight 6 mm
    bend 90 deg toward gingival
    straight 5 mm
    bend 90 deg toward mesial
    straight 9 mm
    seat canine
    straight 9 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 2 mm step 1 mm
  require at activation 1 mm {
    ${requirement}
  }
}
`;

async function opened(trialsLater: boolean, given = text()) {
  const workspace = createWorkspace({ readFile: async () => undefined, trialsLater });
  workspace.open(uri, given, 1);
  return { workspace, snapshot: (await workspace.snapshot(uri))! };
}

const messages = ({ problems }: { readonly problems: readonly { readonly message: string }[] }) =>
  problems.map(({ message }) => message).join('\n');

it('comes with `finish`, and the results are those of an analysis in one go', async () => {
  const { snapshot: whole } = await opened(false);
  const { workspace, snapshot: first } = await opened(true);
  expect(whole.unfinished).toEqual([]);
  expect(whole.appliances[0].analysis?.yielding?.trial).toBeDefined();
  expect(first.unfinished).toHaveLength(1);
  expect(first.appliances[0].analysis?.yielding?.trialToCome).toBe(true);
  expect(first.appliances[0].analysis?.stages).toEqual(whole.appliances[0].analysis?.stages);
  expect(messages(first)).not.toBe(messages(whole));
  let pauses = 0;
  const pause = async () => {
    pauses += 1;
    return true;
  };
  expect(await workspace.finish(first, pause)).toBe(true);
  expect(pauses).toBeGreaterThan(1);
  const second = (await workspace.snapshot(uri))!;
  expect(second.unfinished).toEqual([]);
  expect(second.appliances[0].analysis).toEqual(whole.appliances[0].analysis);
  expect(messages(second)).toBe(messages(whole));
  expect(workspace.effort.solves).toBe(1);
  expect(await workspace.snapshot(uri)).toBe(second);
});

it('is given up between two equilibria, and gone on with when it is wanted again', async () => {
  const { snapshot: whole } = await opened(false);
  const { workspace, snapshot } = await opened(true);
  let pauses = 0;
  expect(await workspace.finish(snapshot, async () => ++pauses < 2)).toBe(false);
  expect((await workspace.snapshot(uri))!.unfinished).toEqual(snapshot.unfinished);
  expect(await workspace.finish(snapshot, async () => true)).toBe(true);
  expect((await workspace.snapshot(uri))!.appliances[0].analysis).toEqual(whole.appliances[0].analysis);
});

it('is there at once where the file names a result of it', async () => {
  const { snapshot } = await opened(true, text('wire.set <= 90 deg'));
  expect(snapshot.unfinished).toEqual([]);
  expect(snapshot.appliances[0].analysis?.yielding?.trial).toBeDefined();
});
