/** Bands are computed on request, once per set of numbers, and can be given up. */
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '#workspace/workspace';

const uri = 'file:///bands.spring';

const text = (comment: string, angle = 20) => `use "alloys"
// ${comment}
appliance v_bend {
  wire 0.016 in x 0.022 in of beta_titanium
  path running mesial {
    straight 9 mm
    seat molar
    straight 6 mm
    preactivate ${angle} deg toward gingival
    straight 9 mm
    seat canine
    straight 9 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 0.2 mm step 0.1 mm
}
`;

async function opened(given = text('')) {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, given, 1);
  return { workspace, snapshot: (await workspace.snapshot(uri))! };
}

describe('bands', () => {
  it('are not there until they are asked for, and leave the snapshot as it was', async () => {
    const { workspace, snapshot } = await opened();
    expect(snapshot.appliances[0].bands).toBeUndefined();
    const more = await workspace.withBands(snapshot);
    expect(more.appliances[0].bands?.activation).toBe(0.2);
    expect(snapshot.appliances[0].bands).toBeUndefined();
  });

  it('are kept over an edit that changes no number, and their places follow it', async () => {
    const { workspace, snapshot } = await opened();
    const [first] = (await workspace.withBands(snapshot)).appliances;
    workspace.open(uri, text('a longer remark'), 2);
    let pauses = 0;
    const pause = async () => {
      pauses++;
      return true;
    };
    const [second] = (await workspace.withBands((await workspace.snapshot(uri))!, { pause })).appliances;
    expect(pauses).toBe(0);
    expect(second.bands?.bands).toBe(first.bands?.bands);
    const bend = (bands: typeof first.bands) => bands?.sizes.find(({ label }) => label.startsWith('preactivation'));
    expect(bend(second.bands)!.pathSpan!.start - bend(first.bands)!.pathSpan!.start).toBe('a longer remark'.length);
    workspace.open(uri, text('', 21), 3);
    await workspace.withBands((await workspace.snapshot(uri))!, { pause });
    expect(pauses).toBeGreaterThan(0);
  });

  it('are computed in slices, and given up when the caller says so', async () => {
    const { workspace, snapshot } = await opened();
    let pauses = 0;
    const stopped = await workspace.withBands(snapshot, { pause: async () => ++pauses < 2 });
    expect(pauses).toBe(2);
    expect(stopped.appliances[0].bands).toBeUndefined();
    expect((await workspace.withBands(snapshot)).appliances[0].bands).toBeDefined();
  });

  it('are of the appliance and the activation asked for', async () => {
    const { workspace, snapshot } = await opened(`${text('')}\n${text('').slice(12).replace('v_bend', 'other')}`);
    const { appliances } = await workspace.withBands(snapshot, { appliance: 'other', activation: 0.05 });
    expect(appliances.map(({ bands }) => bands?.activation)).toEqual([undefined, 0.05]);
  });

  it('are left out where the text has an error that stops a new result', async () => {
    const { workspace } = await opened();
    workspace.open(uri, text('').replace('20 deg', '20 mm'), 2);
    const snapshot = (await workspace.snapshot(uri))!;
    expect(snapshot.appliances[0].stale).toBe(true);
    expect((await workspace.withBands(snapshot)).appliances[0].bands).toBeUndefined();
  });
});
