/** Parameters as the preview offers them, and the edits that give them other values. */
import { describe, expect, it } from 'vitest';
import { parameterSizes } from '#model/parameter-sizes';
import { parameterChanges, previewHandles, previewParameters, withValues } from '#preview/parameters';
import { createWorkspace } from '#workspace/workspace';

const uri = 'file:///a.spring';
const text = `use "alloys"
appliance bent {
  wire 0.016 in x 0.022 in of steel
  /// How far the wire rises.
  param gable = 15 deg in 0 deg .. 30 deg
  param arm = 0.4 in in 0.2 in .. 0.6 in
  param count = 2 in 1 .. 4
  param twice = 2 * 3 mm in 1 mm .. 9 mm
  param fixed = 3 mm
  path running mesial {
    straight 4 mm
    seat molar
    straight arm
    preactivate gable toward gingival
    repeat count { straight twice }
    straight fixed
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
}
variant low of bent { gable = 10 deg }
`;

async function snapshot() {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, text, 3);
  return { workspace, snapshot: (await workspace.snapshot(uri))! };
}

describe('parameters', () => {
  it('with a range are offered in their own unit, in about a hundred steps', async () => {
    const { appliances } = (await snapshot()).snapshot;
    expect(previewParameters(appliances[0].appliance, text)).toEqual([
      { name: 'gable', value: 15, low: 0, high: 30, unit: 'deg', step: 0.2, documentation: 'How far the wire rises.' },
      { name: 'arm', value: 0.4, low: 0.2, high: 0.6, unit: 'in', step: 0.005, documentation: undefined },
      { name: 'count', value: 2, low: 1, high: 4, unit: '', step: 1, documentation: undefined },
      { name: 'twice', value: 6, low: 1, high: 9, unit: 'mm', step: 0.05, documentation: undefined },
    ]);
  });

  it('have handles where they set a size, without a range as far as no size gets below nought', async () => {
    const { appliance } = (await snapshot()).snapshot.appliances[0];
    const handles = previewHandles(appliance, parameterSizes(appliance), text);
    const told = handles.map(({ name, kind, value, low, high, unit, step }) => [
      name,
      kind,
      value,
      low,
      high,
      unit,
      step,
    ]);
    expect(told).toEqual([
      ['gable', 'angle', 15, 0, 30, 'deg', 0.2],
      ['arm', 'length', 0.4, 0.2, 0.6, 'in', 0.005],
      ['twice', 'length', 6, 1, 9, 'mm', 0.05],
      ['fixed', 'length', 3, 0, undefined, 'mm', 0.05],
    ]);
    // mm per inch; rad per degree.
    expect(handles[1].factor).toBe(25.4);
    expect(handles[0].factor).toBeCloseTo(Math.PI / 180, 12);
  });

  it('are written where they stand: a default, or the value of a variant', async () => {
    const { snapshot: written } = await snapshot();
    const changed = (k: number, values: Record<string, number>) =>
      withValues(written, parameterChanges(written.appliances[k].appliance, values, text));
    expect(changed(0, { gable: 17.5, twice: 4 })).toBe(
      text.replace('gable = 15 deg', 'gable = 17.5 deg').replace('2 * 3 mm in', '4 mm in'),
    );
    expect(changed(0, { arm: 0.30000000000000004, count: 3 })).toBe(
      text.replace('arm = 0.4 in', 'arm = 0.3 in').replace('count = 2 ', 'count = 3 '),
    );
    expect(changed(1, { gable: 12 })).toBe(text.replace('gable = 10 deg', 'gable = 12 deg'));
    expect(changed(0, { unknown: 1, gable: Number.NaN })).toBe(text);
  });

  it('are tried out without a trace in the document', async () => {
    const { workspace, snapshot: written } = await snapshot();
    const tried = (await workspace.tryOut(uri, text.replace('15 deg', '20 deg')))!;
    const moment = (one: typeof written) => one.appliances[0].analysis!.stages[0].state!.wrenches[0].moment[2];
    expect(moment(tried)).not.toBe(moment(written));
    expect(await workspace.snapshot(uri)).toBe(written);
  });
});
