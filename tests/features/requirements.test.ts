import { expect, it } from 'vitest';
import { provideDiagnostics } from '#features/diagnostics';
import { checkRequirements, provideRequirements } from '#features/requirements';
import { snapshotOf } from './fixture';
import { loop, vBend } from './samples';

it('lists every condition under its appliance without solving anything', async () => {
  const snapshot = await snapshotOf(loop);
  const [{ appliance, range, requirements }] = provideRequirements({ ...snapshot });
  expect(appliance).toBe('closing');
  expect(loop.split('\n')[range.start.line]).toMatch(/^appliance closing/);
  expect(requirements.map(({ kind, condition, stage }) => [kind, condition, stage])).toEqual([
    ['require', 'canine.force.distal >= 0.1 N', 'at 1 mm'],
    ['require', 'loop.leg_gap >= 0 mm', 'at 1 mm'],
  ]);
  for (const { condition, range } of requirements) expect(loop.split('\n')[range.start.line]).toContain(condition);
});

it('tells expected, actual and margin with the figures of the diagnostics', async () => {
  const snapshot = await snapshotOf(vBend);
  const { failure, verdicts } = checkRequirements(snapshot);
  expect(failure).toBeUndefined();
  const [met, missed] = verdicts;
  expect([met.outcome, missed.outcome]).toEqual(['met', 'missed']);
  const finding = provideDiagnostics(snapshot).find(({ code }) => code === 'requirement-missed');
  expect(finding?.message).toContain(`is ${missed.actual}`);
  expect(finding?.message).toContain(`not ${missed.expected}`);
  const verdict = snapshot.appliances[0].verdicts[1];
  // The bound is 0.1 N, and 1 gf is 9.80665e-3 N.
  const short = (0.1 - verdict.actual!.value) / 9.80665e-3;
  expect(Number.parseFloat(missed.margin!)).toBeCloseTo(short, 0);
  expect(missed.margin).toMatch(/ gf outside$/);
  expect(met.margin).toMatch(/ gf inside$/);
  expect(missed.message).toBe(
    `Missed when engaged: ${missed.actual}, expected ${missed.expected} (${missed.margin}). it has to fail here`,
  );
});

it('knows each condition again after an edit elsewhere, and tells equal ones apart', async () => {
  const ids = async (text: string) =>
    provideRequirements(await snapshotOf(text)).flatMap(({ requirements }) => requirements.map(({ id }) => id));
  const before = await ids(loop);
  expect(await ids(loop.replace('height = 8 mm', 'height = 9 mm').replace('use "alloys"', '\nuse "alloys"\n'))).toEqual(
    before,
  );
  const twice = await ids(loop.replace('loop.leg_gap >= 0 mm', 'canine.force.distal >= 0.1 N'));
  expect(new Set(twice).size).toBe(2);
});

it('lists a variant by itself, and a margin of joined conditions is none', async () => {
  const text = `${loop.replace('loop.leg_gap >= 0 mm', 'loop.leg_gap >= 0 mm and canine.force.distal > 0 N')}
variant flat of closing { gable = 5 deg }
`;
  const snapshot = await snapshotOf(text);
  expect(provideRequirements(snapshot).map(({ appliance }) => appliance)).toEqual(['closing', 'flat']);
  const { verdicts } = checkRequirements(snapshot);
  expect(verdicts.map(({ appliance, outcome }) => [appliance, outcome])).toEqual([
    ['closing', 'met'],
    ['closing', 'met'],
    ['flat', 'met'],
    ['flat', 'met'],
  ]);
  expect(verdicts[1].margin).toBeUndefined();
});

it('passes nothing while the file has errors, and says why', async () => {
  const { verdicts } = checkRequirements(await snapshotOf(loop.replace('straight 6 mm', 'straight 6 deg')));
  expect(verdicts.map(({ outcome }) => outcome)).toEqual(['not-evaluable', 'not-evaluable']);
  expect(verdicts[0].message).toMatch(/length/);
});

it('never rounds a miss to a margin of nothing', async () => {
  const { appliances } = await snapshotOf(loop);
  const { value } = appliances[0].verdicts[0].actual!;
  const near = loop.replace('>= 0.1 N', `>= ${(value + 1e-7).toFixed(9)} N`);
  const [first] = checkRequirements(await snapshotOf(near)).verdicts;
  expect(first.outcome).toBe('missed');
  expect(Number.parseFloat(first.margin!)).toBeGreaterThan(0);
});
