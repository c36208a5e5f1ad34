/** A trial activation in the editor: hints and hovers at its line, completion, outline, preview and report. */
import { expect, it } from 'vitest';
import { provideCompletion } from '#features/completion';
import { provideDocumentSymbols } from '#features/document-symbols';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { defaultSettings } from '#features/settings';
import { readFixture, snapshotOf } from './fixture';

const gabled = `use "alloys"
use "loops"
appliance gabled {
  wire 0.019 in x 0.025 in of beta_titanium
  path running mesial {
    straight 10 mm
    seat molar
    straight 6 mm
    preactivate 45 deg toward gingival
    open_loop(height = 7 mm, width = 2 mm) as loop
    preactivate 45 deg toward gingival
    straight 6 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 3 mm step 1 mm
  trial activation 3 mm
}
`;

it('shows neutral before and after beside the trial activation', async () => {
  const snapshot = await snapshotOf(gabled);
  const lines = gabled.split('\n');
  const end = { line: lines.length, character: 0 };
  const hints = provideInlayHints(snapshot, { start: { line: 0, character: 0 }, end }, defaultSettings);
  const trial = hints.find(({ position }) => lines[position.line].includes('trial activation'));
  expect(String(trial?.label)).toMatch(/neutral -[\d.]+ mm → -[\d.]+ mm\u2007* · no further set to [\d.]+ mm/);
});

it('tells at the word what it did and what the fibres bear', async () => {
  const { text, cursor } = readFixture(gabled.replace('trial activation', 'tri$0al activation'));
  const hover = JSON.stringify(provideHover(await snapshotOf(text), cursor!, defaultSettings));
  expect(hover).toContain('pulled once');
  expect(hover).toMatch(/moved neutral from -[\d.]+ mm to -[\d.]+ mm/);
  expect(hover).toMatch(/a fibre bears: [\d.]+ MPa/);
});

it('tells at the activation what one would change where there is none', async () => {
  const { text, cursor } = readFixture(
    gabled.replace('  trial activation 3 mm\n', '').replace('activation pull', 'activ$0ation pull'),
  );
  const hover = JSON.stringify(provideHover(await snapshotOf(text), cursor!, defaultSettings));
  expect(hover).toMatch(/A trial activation to 3 mm would move neutral from/);
});

it('completes its second word and stands in the outline', async () => {
  const { text, cursor } = readFixture(gabled.replace('trial activation 3 mm', 'trial $0'));
  expect(provideCompletion(await snapshotOf(text), cursor!).map(({ label }) => label)).toContain('activation');
  const symbols = JSON.stringify(provideDocumentSymbols(await snapshotOf(gabled)));
  expect(symbols).toContain('trial activation');
});
