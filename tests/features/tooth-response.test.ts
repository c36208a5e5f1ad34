/** Groups of teeth and visits in the editor: hints, hover, completion, outline. */
import { describe, expect, it } from 'vitest';
import { provideCompletion } from '#features/completion';
import { provideDocumentSymbols } from '#features/document-symbols';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { defaultSettings } from '#features/settings';
import { readFixture, snapshotOf, wholeText } from './fixture';

const file = (lines: string) => `use "alloys"
use "loops"
use "teeth"
appliance closing {
  wire 0.017 in x 0.025 in of beta_titanium stress relieved
  path running mesial {
    straight 8 mm
    seat molar
    straight 12.3 mm
    preactivate 24 deg toward gingival
    t_loop(height = 7 mm, width = 10 mm, gap = 2.4 mm) as loop
    preactivate 24 deg toward gingival
    straight 11.5 mm
    seat canine
    straight 2 mm
  }
  tube molar on tooth 16, slot 0.022 in x 0.028 in, length 4 mm
  bracket canine on tooth 13, slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 2 mm step 0.5 mm
${lines}
}
`;
const groups = '  group anchor of molar, on teeth 15 .. 17\n  group front of canine, on teeth 11 .. 13, both sides';
const visits = '  visits every 6 weeks, close 3 mm between canine and molar, activate 2 mm';

async function labels(lines: string): Promise<string[]> {
  const { text, cursor } = readFixture(file(lines));
  return provideCompletion(await snapshotOf(text), cursor!).map(({ label }) => label);
}

async function hover(lines: string): Promise<string> {
  const { text, cursor } = readFixture(file(lines));
  const found = provideHover(await snapshotOf(text), cursor!, defaultSettings);
  return (found?.contents as { value: string } | undefined)?.value ?? '';
}

describe('groups of teeth and visits in the editor', () => {
  it('hints how each group would move, and how long the visits go on', async () => {
    const text = file(`${groups}\n${visits}`);
    const snapshot = await snapshotOf(text);
    const hints = provideInlayHints(snapshot, wholeText, defaultSettings);
    const lines = text.split('\n');
    const at = (word: string) =>
      hints.find(({ position }) => lines[position.line].trimStart().startsWith(word))?.label as string | undefined;
    expect(at('group anchor')).toMatch(/mesially/);
    expect(at('group front')).toMatch(/distally/);
    expect(at('visits')).toMatch(/^closed after \d+ weeks \(\d+ to \d+\), \d reactivations?( \(\d to \d\))?$/);
    const without = { ...defaultSettings, hints: { ...defaultSettings.hints, groups: false } };
    const fewer = provideInlayHints(snapshot, wholeText, without);
    expect(fewer.length).toBe(hints.length - 3);
  });

  it('tells the force system at the centre of resistance in the hover, and what is done at each visit', async () => {
    const group = await hover(groups.replace('group front', 'gro$0up front'));
    expect(group).toContain('at its centre of resistance, which is estimated');
    expect(group).toContain('| force | distal |');
    expect(group).toContain('Along the arch');
    expect(group).toContain('varies with roots');
    const name = await hover(`${groups}\n  require at activation 2 mm { fr$0ont.force.distal > 0 N }`);
    expect(name).toContain('Tied to the other side');
    const plan = await hover(`${groups}\n${visits.replace('visits', 'vis$0its')}`);
    expect(plan).toContain(
      '| week | closed | loop leg gap | on anchor | line of action | on front | line of action | what is done |',
    );
    expect(plan).toContain('engage and activate by 2 mm');
    expect(plan).toContain('not a prescription');
  });

  it('completes clauses, names and results', async () => {
    expect(await labels('  gr$0')).toContain('group');
    expect(await labels('  group anchor of $0')).toEqual(expect.arrayContaining(['molar', 'canine']));
    expect(await labels('  group anchor of molar, $0')).toEqual(
      expect.arrayContaining(['on', 'resistance', 'root', 'both']),
    );
    expect(await labels('  group anchor of molar, on $0')).toEqual(expect.arrayContaining(['tooth', 'teeth']));
    expect(await labels('  group anchor of molar, resistance 8 mm $0')).toEqual(expect.arrayContaining(['gingival']));
    expect(await labels('  group anchor of molar, resistance 8 mm gingival from $0')).toEqual(
      expect.arrayContaining(['molar']),
    );
    expect(await labels(`${groups}\n  visits every 6 $0`)).toContain('weeks');
    expect(await labels(`${groups}\n  visits every 6 weeks, $0`)).toEqual(
      expect.arrayContaining(['close', 'activate', 'reactivate', 'rate', 'within']),
    );
    expect(await labels(`${groups}\n  visits every 6 weeks, reactivate $0`)).toContain('when');
    expect(await labels(`${groups}\n  require over $0`)).toContain('visits');
    const inside = (text: string) => `${groups}\n  require at activation 2 mm {\n    ${text}\n  }`;
    expect(await labels(inside('$0'))).toEqual(expect.arrayContaining(['anchor', 'front', 'plan']));
    expect(await labels(inside('front.$0'))).toEqual(
      expect.arrayContaining(['force', 'moment', 'line_of_action', 'moved', 'tip']),
    );
    expect(await labels(inside('plan.$0'))).toEqual(expect.arrayContaining(['weeks', 'reactivations']));
  });

  it('are in the outline', async () => {
    const snapshot = await snapshotOf(file(`${groups}\n${visits}`));
    const [one] = provideDocumentSymbols(snapshot);
    const names = (one.children ?? []).map(({ name, detail }) => `${name} ${detail}`);
    expect(names).toContain('anchor group of teeth');
    expect(names.find((name) => name.startsWith('visits'))).toContain('every 6 weeks');
  });
});
