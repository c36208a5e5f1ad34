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

  it('are those of all wires of an appliance, each of which scatters by itself', async () => {
    const { workspace, snapshot } = await opened(`${text('')}
auxiliary spring of v_bend at molar 3 mm gingival {
  wire 0.018 in x 0.025 in of steel
  path running mesial {
    straight 9 mm
    seat molar
    straight 10 mm
    bend 10 deg toward gingival
    straight 10 mm
    seat front
    straight 9 mm
  }
  tube molar length 4 mm
  hook front at 20 mm mesial
}
`);
    const [both, auxiliary] = (await workspace.withBands(snapshot, { appliance: 'v_bend' })).appliances;
    const { state } = both.analysis!.stages.find(({ activation }) => activation === 0.2)!;
    const bands = both.bands!;
    const share = auxiliary.analysis!.stages[0].state!.wrenches[0].moment;
    // What the auxiliary adds is in it. Neutral is found by other steps, to the square of 1e-3 mm: 1e-4 N where the wire is stiff.
    const [found, shown] = [bands.figures.wrenches[0].moment, state!.wrenches[0].moment];
    expect(Math.hypot(...share)).toBeGreaterThan(10);
    for (const k of [0, 1, 2]) expect(Math.abs(found[k] - shown[k])).toBeLessThan(1e-3 * Math.hypot(...share));
    // The auxiliary moves nothing at the canine, which it does not hold, and something at the molar, which it does.
    const shares = (attachment: number) =>
      bands.bands.wrenches[attachment].moment[2].effects.filter((_, k) => bands.sizes[k].label.endsWith(', in spring'));
    expect(bands.sizes.map(({ label }) => label)).toContain('modulus of steel, in spring');
    expect(bands.sizes.map(({ label }) => label)).toContain('bend of 10 deg toward gingival, in spring');
    expect(Math.max(...shares(0).map(({ share }) => share))).toBeGreaterThan(0.05);
    for (const { change } of shares(1)) expect(Math.abs(change)).toBeLessThan(1e-9);
  });

  it('scatter every section and every alloy of a stepped wire', async () => {
    const { workspace, snapshot } = await opened(
      text('').replace(
        '    straight 9 mm\n    seat canine',
        '    section 0.016 in x 0.016 in of steel\n    straight 9 mm\n    seat canine',
      ),
    );
    const [stepped] = (await workspace.withBands(snapshot)).appliances;
    const { sizes, bands } = stepped.bands!;
    const labels = sizes.map(({ label }) => label);
    expect(labels).toContain('modulus of beta_titanium');
    expect(labels).toContain('modulus of steel');
    expect(labels.filter((label) => label.startsWith('height'))).toEqual([
      'height of the wire',
      expect.stringMatching(/^height of the wire from 15(\.\d+)? mm on$/),
    ]);
    const { effects } = bands.wrenches[1].moment[2];
    for (const [k, { label }] of sizes.entries()) {
      if (label === 'modulus of steel' || label.startsWith('height')) expect(effects[k].share).toBeGreaterThan(0.01);
    }
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
