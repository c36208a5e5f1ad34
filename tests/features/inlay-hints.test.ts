import { describe, expect, it } from 'vitest';
import type { InlayHint } from 'vscode-languageserver-types';
import { FORCE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { provideInlayHints } from '#features/inlay-hints';
import { defaultSettings, type Settings } from '#features/settings';
import { effects } from '#model/effects';
import { createWorkspace } from '#workspace/workspace';
import { fixtureUri, readFixture, snapshotOf, wholeText } from './fixture';
import { loop, vBend } from './samples';

describe('inlay hints', () => {
  it('say how much wire is used up to the end of each step, and what expressions come to', async () => {
    // Lengths by hand: 4 + 5 + (20 - 5) + 2 = 26 mm; sharp corners use no wire.
    await checkHints(`
use "alloys"
appliance v_bend {
  wire 0.016 in x 0.022 in of beta_titanium
  param arm = 5 mm in 4 mm .. 8 mm
  param angle = 20 deg in 0 deg .. 30 deg
  path running mesial {
                       ^ hint: 26 mm of wire
    straight 4 mm
                 ^ hint: → 4 mm
    seat molar
              ^ hint: at 4 mm
    straight arm // the short arm
                                 ^ hint: → 9 mm · 5 mm
    preactivate angle toward gingival radius 0 mm
                                                 ^ hint: → 9 mm · 20 deg
    straight 20 mm - arm
                        ^ hint: → 24 mm · 15 mm
    seat canine
               ^ hint: at 24 mm
    straight 2 mm
                 ^ hint: → 26 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
}
`);
  });

  it('say how many turns a helix winds where it is not plain to see, and the wire that it takes', async () => {
    // A turn takes √((π 3)² + 1²) = 9.478 mm of wire.
    await checkHints(`
use "alloys"
appliance coiled {
  wire round 0.016 in of steel
  param coils = 2 in 1 .. 3
  path running mesial {
                       ^ hint: 33.43 mm of wire
    straight 5 mm
                 ^ hint: → 5 mm
    helix coils turns diameter 3 mm toward gingival pitch 1 mm
                                                              ^ hint: → 23.96 mm · 2 turns
    helix 1 turn diameter 3 mm toward occlusal pitch -1 mm
                                                          ^ hint: → 33.43 mm
  }
}
`);
  });

  it('name the forces of each attachment in trade words, at the working activation', async () => {
    const snapshot = await snapshotOf(loop);
    const { analysis, design, workingActivation } = snapshot.appliances[0];
    expect(workingActivation).toBe(1);
    const state = analysis?.stages.find(({ activation }) => activation === 1)?.state;
    const index = design?.attachments.findIndex(({ name }) => name === 'canine') ?? -1;
    const distal = effects(state!.wrenches[index])[0];
    expect(distal.name).toBe('distal');
    const hint = hintOfLine(loop, provideInlayHints(snapshot, wholeText, newton), 'bracket canine');
    expect(hint.label).toContain(`${formatQuantity({ value: distal.amount, dimension: FORCE }, newton.units)} distal`);
    expect(hint.label).toMatch(/N mm (crown|mesial)-/);
  });

  it('give forces in the unit of the settings', async () => {
    const snapshot = await snapshotOf(loop);
    const inGrams = hintOfLine(loop, provideInlayHints(snapshot, wholeText, defaultSettings), 'bracket canine').label;
    const inNewtons = hintOfLine(loop, provideInlayHints(snapshot, wholeText, newton), 'bracket canine').label;
    const grams = Number(/([\d.]+) gf distal/.exec(String(inGrams))?.[1]);
    const newtons = Number(/([\d.]+) N distal/.exec(String(inNewtons))?.[1]);
    // 1 gf = 0.00980665 N exactly; three figures are shown.
    expect(Math.abs((grams * 0.00980665) / newtons - 1)).toBeLessThan(0.01);
  });

  it('show neutral and stiffness at the activation', async () => {
    const snapshot = await snapshotOf(loop);
    const { analysis } = snapshot.appliances[0];
    const hint = hintOfLine(loop, provideInlayHints(snapshot, wholeText, newton), 'activation pull');
    const neutral = formatQuantity({ value: analysis!.neutral!.motion, dimension: LENGTH });
    expect(hint.label).toMatch(/^neutral at .* · .* N\/mm$/);
    expect(hint.label).toContain(`neutral at ${neutral}`);
  });

  it('mark conditions that hold and conditions that do not', async () => {
    const snapshot = await snapshotOf(vBend);
    const hints = provideInlayHints(snapshot, wholeText, newton);
    const labels = ['canine.force.gingival', 'canine.force.occlusal'].map(
      (start) => hintOfLine(vBend, hints, start).label,
    );
    expect(labels.map((label) => String(label)[0]).sort()).toEqual(['✓', '✗'].sort());
  });

  it('show at most two items a line and keep the rest for the tooltip', async () => {
    const snapshot = await snapshotOf(loop);
    for (const { label, tooltip } of provideInlayHints(snapshot, wholeText, defaultSettings)) {
      expect(tooltip).toMatchObject({ kind: 'markdown' });
      // Forces count as one item with two components.
      expect(String(label).split(' · ').length).toBeLessThanOrEqual(3);
    }
    const table = hintOfLine(loop, provideInlayHints(snapshot, wholeText, defaultSettings), 'tube molar').tooltip;
    for (const word of ['intrudes', 'extrudes']) {
      if ((table as { value: string }).value.includes(word)) return;
    }
    expect.fail('The tooltip has no row for the vertical force.');
  });

  it('show as many items a line as the settings say', async () => {
    const snapshot = await snapshotOf(loop);
    const itemsAt = (hintsPerLine: number) => {
      const hints = provideInlayHints(snapshot, wholeText, { ...newton, hintsPerLine });
      return String(hintOfLine(loop, hints, 'activation pull').label).split(' · ').length;
    };
    expect([itemsAt(1), itemsAt(2)]).toEqual([1, 2]);
  });

  it('keep what follows a number in its column while the number changes', async () => {
    const columns = new Set<number>();
    for (const gable of ['9', '10.5', '12.25', '30']) {
      const text = vBend
        .replace('angle = 20 deg', `angle = ${gable} deg`)
        .replace('arm = 5 mm', `arm = ${gable.length} mm`);
      const hints = provideInlayHints(await snapshotOf(text), wholeText, newton);
      columns.add(String(hintOfLine(text, hints, 'preactivate').label).indexOf(' · '));
    }
    expect(columns.size).toBe(1);
  });

  it('tell a radius that is not plain to see, and can leave it out', async () => {
    const inPath = vBend.replace('radius 0 mm', 'radius arm / 5');
    const snapshot = await snapshotOf(inPath);
    const three = { ...newton, hintsPerLine: 3 };
    // arm / 5 = 1 mm
    expect(hintOfLine(inPath, provideInlayHints(snapshot, wholeText, three), 'preactivate').label).toContain(
      'radius 1 mm',
    );
    const without = { ...three, hints: { ...three.hints, radii: false } };
    expect(hintOfLine(inPath, provideInlayHints(snapshot, wholeText, without), 'preactivate').label).not.toContain(
      'radius',
    );
  });

  it('leave out the kinds that are switched off', async () => {
    const snapshot = await snapshotOf(loop);
    const off = Object.fromEntries(Object.keys(defaultSettings.hints).map((kind) => [kind, false]));
    expect(provideInlayHints(snapshot, wholeText, { ...defaultSettings, hints: off as Settings['hints'] })).toEqual([]);
    const onlyForces = { ...defaultSettings, hints: { ...(off as Settings['hints']), forces: true } };
    const hints = provideInlayHints(snapshot, wholeText, onlyForces);
    expect(hints.map(({ position }) => loop.split('\n')[position.line].trim().split(' ')[0])).toEqual([
      'tube',
      'bracket',
    ]);
  });

  it('stay within the range asked for', async () => {
    const snapshot = await snapshotOf(loop);
    const hints = provideInlayHints(
      snapshot,
      { start: { line: 22, character: 0 }, end: { line: 24, character: 0 } },
      defaultSettings,
    );
    expect(hints.length).toBeGreaterThan(0);
    expect(hints.every(({ position }) => position.line >= 22 && position.line <= 24)).toBe(true);
  });

  it('keep the last good results while the text is broken, marked', async () => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open(fixtureUri, loop, 1);
    await workspace.snapshot(fixtureUri);
    const broken = loop.replace('straight 6 mm', 'straight 6 m');
    workspace.open(fixtureUri, broken.replace('6 m\n', '6 furlongs\n'), 2);
    const snapshot = await workspace.snapshot(fixtureUri);
    expect(snapshot?.appliances[0].stale).toBe(true);
    const hints = provideInlayHints(snapshot!, wholeText, newton);
    expect(hintOfLine(loop, hints, 'bracket canine').label).toMatch(/^earlier: .* N distal/);
    expect(hintOfLine(loop, hints, 'canine.force.distal').label).toMatch(/^earlier: ✓/);
  });
});

const newton: Settings = { ...defaultSettings, units: { force: 'N' } };

/** The hint of the line that starts with these words. */
function hintOfLine(text: string, hints: readonly InlayHint[], start: string): InlayHint {
  const line = text.split('\n').findIndex((one) => one.trim().startsWith(start));
  const hint = hints.find(({ position }) => position.line === line);
  if (hint === undefined) throw new Error(`There is no hint at "${start}".`);
  return hint;
}

/** The hints of the lines with a note are the noted ones, at the line's end. */
async function checkHints(marked: string): Promise<void> {
  const { text, expected } = readFixture(marked);
  const hints = provideInlayHints(await snapshotOf(text), wholeText, defaultSettings);
  const found = expected.map(({ range }) => hints.find(({ position }) => position.line === range.start.line));
  expect(found.map((hint) => String(hint?.label).replaceAll('\u2007', ''))).toEqual(expected.map((one) => one.text));
  const lines = text.split('\n');
  for (const hint of found) expect(hint?.position.character).toBe(lines[hint?.position.line ?? 0].length);
}
