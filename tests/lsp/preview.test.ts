import { expect, it } from 'vitest';
import { defaultSettings } from '#features/settings';
import { previewContent } from '#lsp/preview';
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
