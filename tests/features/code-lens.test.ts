import { describe, expect, it } from 'vitest';
import { FORCE } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { provideCodeLenses } from '#features/code-lens';
import { defaultSettings } from '#features/settings';
import { effects } from '#model/effects';
import { createWorkspace } from '#workspace/workspace';
import { fixtureUri, snapshotOf } from './fixture';
import { loop } from './samples';

describe('code lens', () => {
  it('has the force system at the working activation in one line, and opens the preview', async () => {
    const snapshot = await snapshotOf(loop);
    const [requirements, forces] = provideCodeLenses(snapshot, defaultSettings);
    const line = loop.split('\n').indexOf('appliance closing {');
    expect(forces.range.start.line).toBe(line);
    const { analysis, design } = snapshot.appliances[0];
    const state = analysis?.stages.find(({ activation }) => activation === 1)?.state;
    const canine = design?.attachments.findIndex(({ name }) => name === 'canine') ?? -1;
    const pull = effects(state!.wrenches[canine])[0];
    const text = formatQuantity({ value: pull.amount, dimension: FORCE });
    expect(forces.command?.title).toMatch(/^at 1 mm: molar .*; canine /);
    expect(forces.command?.title).toContain(`canine ${text} ${pull.name}`);
    expect(forces.command).toMatchObject({ command: 'springwright.openPreview', arguments: [fixtureUri, 'closing'] });
    expect(requirements.command?.title).toBe('requirements: 2 of 2 met');
  });

  it('uses the unit of the settings', async () => {
    const settings = { ...defaultSettings, units: { force: 'N' } } as const;
    const [, forces] = provideCodeLenses(await snapshotOf(loop), settings);
    expect(forces.command?.title).toMatch(/ N distal/);
  });

  it('counts what is missed', async () => {
    const text = loop.replace('canine.force.distal >= 0.1 N', 'canine.force.distal >= 100 N');
    const titles = provideCodeLenses(await snapshotOf(text), defaultSettings).map(({ command }) => command?.title);
    expect(titles).toContain('requirements: 1 of 2 met');
  });

  it('keeps the last good results of a broken file, marked', async () => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open(fixtureUri, loop, 1);
    const whole = provideCodeLenses((await workspace.snapshot(fixtureUri))!, defaultSettings);
    workspace.open(fixtureUri, loop.replace('straight 7 mm', 'straight'), 2);
    const stale = provideCodeLenses((await workspace.snapshot(fixtureUri))!, defaultSettings);
    expect(stale.map(({ command }) => command?.title)).toEqual(
      whole.map(({ command }) => `earlier: ${command?.title}`),
    );
  });

  it('says so where there is nothing yet', async () => {
    const titles = provideCodeLenses(await snapshotOf('appliance a {\n}\n'), defaultSettings);
    expect(titles.map(({ command }) => command?.title)).toEqual(['no force system yet']);
  });
});
