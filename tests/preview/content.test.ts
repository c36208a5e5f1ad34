import { describe, expect, it } from 'vitest';
import { defaultSettings } from '#features/settings';
import { previewContent } from '#preview/content';
import type { PreviewParams } from '#preview/view';
import { createWorkspace } from '#workspace/workspace';

it('shows beside the forces of an attachment how much play its slot leaves', async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  const uri = 'file:///play.spring';
  workspace.open(
    uri,
    `use "alloys"
appliance slotted {
  wire 0.019 in x 0.025 in of steel
  path running mesial { straight 3 mm seat molar straight 10 mm seat canine }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in
}`,
    1,
  );
  const snapshot = (await workspace.snapshot(uri))!;
  const { readouts } = previewContent(snapshot, { uri }, defaultSettings);
  const play = readouts
    .filter(({ label }) => label.startsWith('play'))
    .map(({ group, label, value }) => [group, label, value]);
  // Handbook 2.3: 0.019 x 0.025 in 0.022 turns 7.24°; 2.4 by hand for 4 mm: height / cos t + 4 tan t = 0.5588 at 1.090°.
  expect(play).toEqual([
    ['molar', 'play, third order', '7.24 deg'],
    ['molar', 'play, second order', '1.09 deg'],
    ['canine', 'play, third order', '7.24 deg'],
  ]);
});

describe('several appliances of a file', () => {
  const text = `use "alloys"
use "loops"
appliance high {
  wire 0.016 in x 0.022 in of steel stress relieved
  param height = 8 mm in 5 mm .. 10 mm
  path running mesial {
    straight 6 mm seat molar straight 4 mm open_loop(height = height, width = 2 mm) as loop straight 4 mm seat canine straight 2 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 1 mm step 0.5 mm
  require at activation 0.5 mm { canine.force.distal <= 2 N }
}
variant low of high { height = 5 mm }
appliance bare {
  wire 0.016 in x 0.022 in of steel
  path running mesial { straight 6 mm seat molar straight 10 mm seat premolar straight 2 mm }
  tube molar length 4 mm
  bracket premolar width 3 mm, moved 0.2 mm gingival
}
`;
  const uri = 'file:///several.spring';
  const content = async (params: Partial<PreviewParams>) => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open(uri, text, 1);
    return previewContent((await workspace.snapshot(uri))!, { uri, ...params }, defaultSettings);
  };

  it('have the figures that each has by itself, at one activation', async () => {
    const { comparison } = await content({ others: ['low'], activation: 0.5 });
    expect(comparison?.headings).toEqual(['high', 'low']);
    const row = (label: string) => comparison?.rows.find((one) => one.label === label)?.cells;
    for (const [k, appliance] of ['high', 'low'].entries()) {
      const { readouts } = await content({ appliance, activation: 0.5 });
      const figure = (group: string, label: string) =>
        readouts.find((one) => one.group === group && one.label === label)?.value;
      expect(row('activation')?.[k]).toBe('0.5 mm');
      expect(row('wire')?.[k]).toBe(figure('Wire', 'developed length'));
      expect(row('stiffness')?.[k]).toBe(figure('Activation', 'stiffness'));
      expect(row('elastic use')?.[k]).toBe(figure('Wire', 'elastic use'));
      expect(row('canine force')?.[k]).toContain(`${figure('canine', 'force distal')} distal`);
    }
    // The lower loop is stiffer, and too much so.
    expect(row('requirements')).toEqual(['1 of 1 met', '0 of 1 met']);
  });

  it('say where one of them has no such figure, and follow the activation that is asked for', async () => {
    const { comparison } = await content({ others: ['low', 'bare'], activation: 0.8 });
    expect(comparison?.headings).toEqual(['high', '1 low', '2 bare']);
    const row = (label: string) => comparison?.rows.find((one) => one.label === label)?.cells;
    expect(row('activation')).toEqual(['0.8 mm', '0.8 mm', 'engaged']);
    expect(row('stiffness')?.[2]).toBe('–');
    expect(row('premolar force')?.slice(0, 2)).toEqual(['–', '–']);
    expect(row('premolar force')?.[2]).toMatch(/gingival|occlusal/);
  });

  it('are drawn over each other or side by side; names that are gone, and its own, are left out', async () => {
    const { drawing: over } = await content({ others: ['low', 'gone', 'high'] });
    expect(over).toContain('class="wire compared"');
    expect(over).not.toContain('line-2');
    const { drawing: beside, comparison } = await content({ others: ['low'], layout: 'beside' });
    expect(beside?.match(/<svg /g)).toHaveLength(3);
    expect(comparison?.headings).toEqual(['high', 'low']);
    const alone = await content({ others: ['gone'] });
    expect(alone.comparison).toBeUndefined();
  });
});
