import { describe, expect, it } from 'vitest';
import { provideHover } from '#features/hover';
import { defaultSettings } from '#features/settings';
import { createWorkspace } from '#workspace/workspace';
import { fixtureUri, readFixture, snapshotOf } from './fixture';
import { loop, vBend } from './samples';

describe('hover', () => {
  it('shows a parameter’s value, dimension and range', async () => {
    const text = await hoverAt(vBend.replace('straight arm', 'straight a$0rm'));
    expect(text).toContain('param arm = 5 mm in 4 mm .. 8 mm');
    expect(text).toContain('5 mm, length');
  });

  it('shows a named value that is computed', async () => {
    // By hand: 20 mm - 5 mm.
    expect(await hoverAt(vBend.replace('straight far', 'straight f$0ar'))).toContain('15 mm, length');
  });

  it('shows a part with its parameters and doc comment', async () => {
    const text = await hoverAt(loop.replace('    vertical(', '    vert$0ical('));
    expect(text).toContain('part vertical(height = 7 mm in 4 mm .. 10 mm, width = 2 mm)');
    expect(text).toContain('An open vertical loop.');
  });

  it('shows where an alloy’s figures come from', async () => {
    const text = await hoverAt(vBend.replace('of beta_titanium', 'of beta_$0titanium'));
    expect(text).toContain('modulus');
    expect(text).toMatch(/Source|From memory|Common practice/);
  });

  it('explains an arch form where a wire follows it', async () => {
    const text = `appliance archwire in upper arch {
  path running left {
    follow beta_$0arch(width = 55 mm, depth = 40 mm) from 47 mm right to 47 mm left
  }
}
`;
    expect(await hoverAt(text)).toContain('beta_arch(width = 55 mm, depth = 40 mm)');
  });

  it('explains sizes of the wire and figures of an alloy', async () => {
    expect(await hoverAt(loop.replace('straight 6 mm', 'straight 6 mm + wire.thick$0ness'))).toContain(
      'The smaller of the wire’s height and width.',
    );
    const alloy = 'alloy own {\n  mod$0ulus = 180 GPa\n  poisson = 0.3\n  yield = 1400 MPa\n  inner_radius = 1\n}\n';
    expect(await hoverAt(alloy)).toContain('Modulus of elasticity');
    expect(await hoverAt(`${alloy.replace('$0', '')}let half = own.mod$0ulus / 2\n`)).toContain(
      'Modulus of elasticity',
    );
  });

  it('keeps the last good results of a broken file, marked', async () => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open(fixtureUri, loop, 1);
    await workspace.snapshot(fixtureUri);
    const { text, cursor } = readFixture(
      loop.replace('    straight 3 mm', '    straight').replace('  activation pull', '  activa$0tion pull'),
    );
    workspace.open(fixtureUri, text, 2);
    const hover = provideHover((await workspace.snapshot(fixtureUri))!, cursor!, defaultSettings);
    expect(JSON.stringify(hover)).toMatch(/Of the last whole text: Neutral, the position without force/);
  });

  it('shows the force system of an attachment', async () => {
    const text = await hoverAt(loop.replace('bracket canine', 'bracket can$0ine'));
    expect(text).toContain('at 1 mm from neutral');
    expect(text.match(/^\| (force|moment) \|/gm)).toHaveLength(6);
  });

  it('shows how much play the slot leaves, which the computation leaves out', async () => {
    // Handbook 2.3: 0.017 x 0.025 in 0.022 turns 12.48 deg, one-sided.
    const slotted = loop.replace(/bracket canine[^\n]*/, 'bracket can$0ine slot 0.022 in x 0.028 in, width 3 mm');
    const text = await hoverAt(slotted);
    expect(text).toContain('turns 12.48 deg (third order)');
    expect(text).toMatch(/tips [\d.]+ deg \(second order\)/);
  });

  it('shows what a result means and comes to', async () => {
    const text = await hoverAt(loop.replace('canine.force.distal', 'canine.force.dis$0tal'));
    expect(text).toContain('toward distal');
    expect(text).toMatch(/[\d.]+ gf at 1 mm from neutral/);
    expect(await hoverAt(loop.replace('canine.force.distal', 'canine.for$0ce.distal'))).toContain('by direction');
  });

  it('explains keywords, directions, units and functions', async () => {
    expect(await hoverAt(loop.replace('preactivate', 'preact$0ivate'))).toContain('gable');
    expect(await hoverAt(loop.replace('toward gingival', 'toward gin$0gival'))).toContain('intrudes');
    expect(await hoverAt(loop.replace('straight 6 mm', 'straight 6 m$0m'))).toContain('millimetre');
    expect(await hoverAt(loop.replace('straight 6 mm', 'straight mi$0n(6 mm, 7 mm)'))).toContain('smallest');
    expect(await hoverAt(loop.replace('length 4 mm', 'len$0gth 4 mm'))).toContain('tube holds straight');
  });

  it('shows at a bend how far to bend so that it springs back to what is written', async () => {
    const text = await hoverAt(loop.replace('preactivate', 'preact$0ivate'));
    const written = Number(/Angle: ([\d.]+) deg/.exec(text)?.[1]);
    const load = Number(/bend to ([\d.]+) deg/.exec(text)?.[1]);
    expect(written).toBeGreaterThan(0);
    expect(load).toBeGreaterThan(written);
    expect(text).toContain('Radius:');
    expect(text).toContain('check against a print');
  });

  it('shows the sizes of a helix, and how to wind it so that it springs back to them', async () => {
    const text = await hoverAt(
      vBend.replace('straight far', 'hel$0ix 2 turns diameter 3 mm toward gingival\n    straight far'),
    );
    // Beside each other, coils stand by the wire's width: 0.022 in.
    expect(text).toContain('2 turns, diameter 3 mm to the centre line, 0.559 mm from turn to turn');
    // (π 3 mm)² + 0.5588² per turn.
    expect(text).toContain('18.88 mm');
    expect(text).toMatch(/wind [\d.]+ turns of diameter [\d.]+ mm/);
  });

  it('shows what the section makes of the wire, its edges included', async () => {
    // Handbook 3.1: 0.016 x 0.022 has I 3.1256e-3 flat, 5.9094e-3 edgewise and J 6.9216e-3 mm⁴.
    const text = await hoverAt(vBend.replace('wire 0.016', 'wi$0re 0.016'));
    expect(text).toMatch(/through the height[^|]*\| 0\.003126 mm\^4 \|/);
    expect(text).toMatch(/through the width[^|]*\| 0\.005909 mm\^4 \|/);
    expect(text).toMatch(/J 0\.006922 mm\^4/);
    // Handbook 2.2: edges of 0.08 mm leave 0.9758 of the area and 0.9392 of I flat.
    const rounded = await hoverAt(
      vBend.replace('wire 0.016 in x 0.022 in', 'wi$0re 0.016 in x 0.022 in corner 0.08 mm'),
    );
    expect(rounded).toContain('edges rounded to 0.08 mm');
    expect(rounded).toMatch(/through the height[^|]*\| 0\.002936 mm\^4 \|/);
  });

  it('shows the value of an expression at its operator', async () => {
    // By hand: 2 × 3 mm = 6 mm.
    expect(await hoverAt(loop.replace('straight 6 mm', 'straight 2 *$0 3 mm'))).toContain('6 mm, length');
  });

  it('shows the page of a problem', async () => {
    const text = await hoverAt(vBend.replace('straight 4 mm', 'straight 4 d$0eg'));
    expect(text).toContain('`unit-mismatch`');
  });

  it('says nothing in comments and between tokens', async () => {
    const { text, cursor } = readFixture(`// a com$0ment\n${vBend}`);
    expect(provideHover(await snapshotOf(text), cursor!, defaultSettings)).toBeNull();
    expect(provideHover(await snapshotOf(''), { line: 0, character: 0 }, defaultSettings)).toBeNull();
    expect(provideHover(await snapshotOf(vBend), { line: 9999, character: 0 }, defaultSettings)).toBeNull();
  });

  it('finds names of modules in their own text', async () => {
    const files = { 'file:///files/parts.spring': '/// A stub.\npart stub(reach = 3 mm) {\n  straight reach\n}\n' };
    const marked = `use "./parts.spring"\n${vBend.replace('straight far', 'straight far\n    st$0ub()')}`;
    const { text, cursor } = readFixture(marked);
    const hover = provideHover(await snapshotOf(text, files), cursor!, defaultSettings);
    const content = (hover!.contents as { value: string }).value;
    expect(content).toContain('part stub(reach = 3 mm)');
    expect(content).toContain('"parts.spring"');
  });
});

async function hoverAt(marked: string): Promise<string> {
  const { text, cursor } = readFixture(marked);
  const hover = provideHover(await snapshotOf(text), cursor!, defaultSettings);
  if (hover === null) throw new Error('There is no hover here.');
  return (hover.contents as { value: string }).value;
}
