/** What hover, hints, preview and report tell of a wire that slides, has play and is pulled, over a state made up for it. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { EngagedState } from '#core/analysis/analysis';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { positionAt } from '#features/positions';
import { defaultSettings } from '#features/settings';
import { previewContent } from '#preview/content';
import { plain } from '#report/paint';
import { buildAnalyzeReport } from '#report/report';
import { analyzeReport } from '#report/schema';
import { analyzeText } from '#report/text';
import type { Snapshot } from '#workspace/snapshot';
import { fixtureUri, snapshotOf, wholeText } from './fixture';

const text = `use "alloys"
appliance test {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 5 mm
    seat molar
    straight 10 mm
    mark middle
    straight 10 mm
    seat canine
    straight 5 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  elastic closing from canine to molar force 1.5 N
  coil from middle to molar rate 0.4 N/mm rest 12 mm
}
`;

const settings = { ...defaultSettings, units: { force: 'N' as const } };
let snapshot: Snapshot;
let untouched: Snapshot;

beforeAll(async () => {
  untouched = await snapshotOf(text.replace(/\n {2}(?:elastic|coil)[^\n]*/g, ''));
  const [one] = untouched.appliances;
  const whole = await snapshotOf(text);
  const design = whole.file.appliances[0].design;
  const analysis = one.analysis;
  const solved = analysis?.stages[0]?.state;
  if (!design || !analysis || !solved) throw new Error('no state to begin with');
  const wrench = (distal: number) => ({ force: [-distal, 0, 0], moment: [0, 0, 0] }) as const;
  const state: EngagedState = {
    ...solved,
    wrenches: [wrench(-1), wrench(1)],
    slid: [0, 0.25],
    seated: solved.seated.map((none, index) =>
      index === 0 ? none : { turn: [0.1, 0, 0.05], touching: { height: 2, depth: 1, torque: false } },
    ),
    loads: [
      {
        force: 1.5,
        places: [
          [20, 0, 0],
          [0, 0, 0],
        ],
      },
      {
        force: -0.8,
        places: [
          [10, 0, 0],
          [0, 0, 0],
        ],
      },
    ],
    friction: [
      { least: wrench(-1), most: wrench(-1) },
      { least: wrench(1.2), most: wrench(0.7) },
    ],
  };
  const [molar, canine] = design.attachments;
  snapshot = {
    ...whole,
    appliances: [
      {
        ...whole.appliances[0],
        design: { ...design, attachments: [molar, { ...canine, lengthwise: 'sliding', play: true, friction: 0.2 }] },
        analysis: { ...analysis, stages: [{ activation: 0, state, failure: undefined }] },
        workingActivation: 0,
      },
    ],
  };
});

function hoverAt(place: string): string {
  const offset = text.indexOf(place);
  const hover = provideHover(snapshot, positionAt(snapshot, offset), settings);
  return hover === null ? '' : (hover.contents as { value: string }).value;
}

describe('the editor', () => {
  it('tells at an attachment what slid, what the wire touches and what play takes, and the band of friction', () => {
    const hover = hoverAt('canine slot');
    expect(hover).toContain("**Slid**: 0.25 mm of wire has slid through it toward the wire's end.");
    expect(hover).toContain('touches its height on both sides, its depth on one side');
    expect(hover).toContain('2.86 deg of tip (second order)');
    expect(hover).toContain('5.73 deg of torque (third order)');
    expect(hover).toContain('with friction 0.7 N .. 1.2 N');
    expect(hover).not.toContain('which the computation leaves out');
    expect(hoverAt('molar slot')).not.toMatch(/Slid|In its slot|friction \d/);
  });

  it('tells at a load how hard it pulls or pushes', () => {
    const labels = provideInlayHints(snapshot, wholeText, settings).map(({ label }) => label);
    expect(labels).toContain('pulls 1.5 N over 20 mm');
    expect(labels).toContain('pushes 0.8 N over 10 mm');
    expect(hoverAt('closing from')).toContain('it pulls its two ends together with 1.5 N, over a distance of 20 mm');
    expect(hoverAt('coil from')).toContain('it pushes its two ends apart with 0.8 N, over a distance of 10 mm');
  });
});

it('the preview shows them as read-outs', () => {
  const { readouts } = previewContent(snapshot, { uri: fixtureUri }, settings);
  const shown = readouts.map(({ group, label, value, words }) => [group, label, value, words]);
  expect(shown).toContainEqual(['canine', 'slid', '0.25 mm', "toward the wire's end"]);
  expect(shown).toContainEqual(['canine', 'touches', 'its height on both sides, its depth on one side', undefined]);
  expect(shown).toContainEqual(['canine', 'tip in the slot', '2.86 deg', 'taken by play']);
  expect(shown).toContainEqual(['closing', 'force', '1.5 N', 'pulls']);
  expect(shown).toContainEqual(['coil middle to molar', 'force', '0.8 N', 'pushes']);
  expect(shown).toContainEqual([
    'canine',
    'force distal',
    '1 N (0.7 .. 1.2)',
    'pulls distally; in brackets: by friction',
  ]);
});

function reportOf({ appliances, file }: Snapshot) {
  const evaluated = appliances.map((one) => ({
    ...one,
    appliance: { ...file.appliances[0], design: one.design },
  }));
  return buildAnalyzeReport([{ path: 'a.spring', text, problems: [], silenced: [], appliances: evaluated }], {
    version: '0.0.0',
    model: 'full',
  });
}

describe('the report', () => {
  it('carries them in its schema', () => {
    const report = analyzeReport.parse(reportOf(snapshot));
    const [appliance] = report.files[0].appliances;
    const state = appliance.stages[0].state;
    expect(appliance.attachments[1]).toMatchObject({ lengthwise: 'sliding', withPlay: true, friction: 0.2 });
    expect(state?.loads[1]).toMatchObject({
      slid: 0.25,
      inSlot: { touching: { height: 2, depth: 1, torque: false } },
      friction: { least: { force: { mesial: -1.2 } }, most: { force: { mesial: -0.7 } } },
    });
    expect(state?.pulls).toEqual([
      { name: 'closing', kind: 'elastic', from: 'canine', to: 'molar', force: 1.5, length: 20 },
      { name: 'coil middle to molar', kind: 'coil', from: 'middle', to: 'molar', force: -0.8, length: 10 },
    ]);
  });

  it('tells them in words', () => {
    const lines = analyzeText(reportOf(snapshot), { units: { force: 'N' }, paint: plain }).split('\n');
    const said = lines.map((line) => line.trim().replace(/ {2,}/g, '  '));
    expect(said).toContain("canine  0.25 mm of wire has slid through it toward the wire's end");
    expect(said).toContain('closing  pulls 1.5 N over 20 mm');
    expect(said).toContain('coil middle to molar  pushes 0.8 N over 10 mm');
    expect(said.some((line) => line.startsWith('canine  pulls distally  1 N (0.7 .. 1.2)'))).toBe(true);
    expect(said.some((line) => /^canine {2}touches its height on both sides, .*2\.86 deg of tip/.test(line))).toBe(
      true,
    );
  });

  it('says nothing of them where there are none', () => {
    const report = reportOf(untouched);
    const [appliance] = report.files[0].appliances;
    expect(Object.keys(appliance.attachments[1])).not.toContain('lengthwise');
    expect(Object.keys(appliance.stages[0].state ?? {})).not.toContain('pulls');
    expect(analyzeText(report, { units: { force: 'N' }, paint: plain })).not.toMatch(/slid|pulled/);
  });
});
