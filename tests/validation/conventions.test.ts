/** The conventions of the mechanics note, which anyone can check in the head, on texts of their own. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { runSpring, stageOf } from './run-spring';

const gf = 0.00980665;

function spring(path: string, activation = 'pull through molar 0 mm .. 1 mm step 1 mm'): string {
  return `use "alloys"
use "loops"
appliance spring {
  wire 0.017 in x 0.025 in of beta_titanium
  path running mesial {
    straight 10 mm
    seat molar
    ${path}
    seat canine
    straight 6 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation ${activation}
}`;
}

test('gables toward gingival on a centred loop: crown-distal on the molar, crown-mesial on the canine', () => {
  const run = runSpring(
    spring(`straight 6 mm
    preactivate 15 deg toward gingival
    open_loop()
    preactivate 15 deg toward gingival
    straight 6 mm`),
  );
  const neutral = run.analysis.neutral!;
  expect(neutral.wrenches[0].moment[2]).toBeLessThan(-1);
  expect(neutral.wrenches[1].moment[2]).toBeGreaterThan(1);
});

test('a V bend near the molar tips it back and intrudes the front', () => {
  const run = runSpring(
    spring(
      `straight 4 mm
    preactivate 20 deg toward gingival
    straight 20 mm`,
    ),
  );
  const [molar, canine] = run.analysis.neutral!.wrenches;
  expect(molar.moment[2]).toBeLessThan(-1);
  expect(canine.force[1]).toBeGreaterThan(0.1);
  expect(molar.force[1]).toBeLessThan(-0.1);
});

test('pulling through the tube pulls the canine distally and the molar mesially with the same force', () => {
  const run = runSpring(
    spring(`straight 6 mm
    open_loop()
    straight 6 mm`),
  );
  const [molar, canine] = stageOf(run, 1).wrenches;
  expect(canine.force[0]).toBeLessThan(-0.5);
  expect(molar.force[0]).toBeGreaterThan(0.5);
  expect(Math.abs(molar.force[0] + canine.force[0])).toBeLessThan(1e-9 * molar.force[0]);
});

test('the example of the language note: its figures at 1.5 mm within 3 %', () => {
  // An independent rod model gives 124 gf, 38 gf, 6.8 mm, 2.8 N mm and 0.83 of yield (language note). Its loop part is
  // not known. This one has the language's own radius at the base (two thicknesses) and legs side by side, the wire's
  // width and 0.1 mm of clearance apart: the first leg leans toward buccal, and the wire goes on in that plane. With
  // both legs in one plane the molar's mesial-out moment is 3.6 N mm instead, by force times offset.
  const run = runSpring(`use "alloys"
part closed_loop_side_by_side(height = 9 mm, width = 3 mm) {
  let leg = height - width / 2 - 2 * wire.thickness
  let lean = asin((wire.width + 0.1 mm) / leg)
  bend 90 deg toward gingival
  foot
  bend lean toward buccal radius 0 mm
  straight leg
  bend lean toward lingual radius 0 mm
  bend 180 deg toward distal radius width / 2
  straight leg
  foot
  bend 90 deg toward mesial
}
appliance closing_section {
  wire 0.017 in x 0.025 in of beta_titanium
  param loop_height = 9 mm in 6 mm .. 10 mm
  param gable = 15 deg in 0 deg .. 30 deg
  param tip_back = 22 deg in 0 deg .. 30 deg
  path running mesial {
    straight 8 mm
    seat molar
    straight 5.5 mm
    preactivate tip_back toward gingival
    preactivate 8 deg toward lingual
    straight 4 mm
    preactivate gable toward gingival
    closed_loop_side_by_side(height = loop_height, width = 3 mm)
    preactivate gable toward gingival
    straight 6 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 3 mm step 0.5 mm
}`);
  const state = stageOf(run, 3);
  const [molar, canine] = state.wrenches;
  const figures = {
    distal: [-canine.force[0] / gf, 124],
    gingival: [canine.force[1] / gf, 38],
    ratio: [canine.moment[2] / -canine.force[0], 6.8],
    mesialOut: [-molar.moment[1], 2.8],
    yield: [state.stress / run.design.alloy.yield, 0.83],
  };
  console.log(
    'language note, obtained / stated:',
    Object.entries(figures)
      .map(([name, [obtained, stated]]) => `${name} ${obtained.toFixed(3)} / ${stated}`)
      .join(', '),
  );
  for (const [name, [obtained, stated]] of Object.entries(figures)) {
    expect(Math.abs(obtained / stated - 1), `${name}: ${obtained}, stated ${stated}`).toBeLessThan(0.03);
  }
});

test('a steeply gabled closed loop stands 4 to 5 mm crossed, and 2 mm bring it back (common practice, no source)', () => {
  const run = runSpring(`use "alloys"
use "loops"
appliance steep_gables {
  wire 0.019 in x 0.025 in of beta_titanium
  path running mesial {
    straight 14 mm
    seat molar
    straight 6 mm
    preactivate 45 deg toward gingival
    closed_loop(height = 7 mm, width = 2 mm) as loop
    preactivate 45 deg toward gingival
    straight 6 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 3 mm step 0.5 mm
}`);
  const degrees = 180 / Math.PI;
  const nominal = run.analysis.nominalLoops[0];
  const passive = run.analysis.passiveLoops[0];
  const states = [run.analysis.neutral!, ...[2, 4].map((stage) => stageOf(run, stage))];
  console.log(
    `steep gables: passive gap ${passive.legGap.toFixed(2)} mm, nominal ${nominal.legGap.toFixed(2)} mm;`,
    states
      .map(
        (state) =>
          `at ${state.activation.toFixed(1)} mm gap ${state.loops[0].legGap.toFixed(2)} mm, leg angle ${(
            state.loops[0].legAngle * degrees
          ).toFixed(1)} deg, stress ${(state.stress / run.design.alloy.yield).toFixed(2)} of yield`,
      )
      .join('; '),
  );
  const [neutral, , engaged] = states;
  expect(Math.abs(passive.legGap)).toBeCloseTo(2, 1);
  expect(Math.abs(neutral.loops[0].legGap)).toBeGreaterThan(4);
  expect(Math.abs(neutral.loops[0].legGap)).toBeLessThan(5);
  expect(Math.abs(engaged.loops[0].legGap - passive.legGap)).toBeLessThan(1);
  // Past yield, and said so: the stress reported is the nominal elastic one.
  expect(engaged.stress).toBeGreaterThan(run.design.alloy.yield);
  expect(run.analysis.firstYield).toBe(0);
});

test('a trial activation reduces steep gables and a steep V bend, and leaves a spring that still works (common practice, no source)', () => {
  // Gables of 45° a side and an off-centre V bend of 60° in 0.019 x 0.025 in beta-titanium exceed the elastic range; after
  // a trial activation the closed loop still stands about 4 mm open (crossed) at neutral, and about 2 mm of activation
  // bring its legs back to about parallel at their passive distance.
  const run = runSpring(
    `use "alloys"
use "loops"
appliance steep {
  wire 0.019 in x 0.025 in of beta_titanium
  path running mesial {
    straight 14 mm
    seat molar
    straight 5 mm
    preactivate 60 deg toward gingival
    straight 3 mm
    preactivate 45 deg toward gingival
    closed_loop(height = 7 mm, width = 2 mm) as loop
    preactivate 45 deg toward gingival
    straight 6 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 3 mm step 0.5 mm
  trial activation 3 mm
}`,
    { mesh: 'default', yielding: 'followed' },
  );
  const { yielding, neutral, stages, unfollowed } = run.analysis;
  expect(unfollowed).toBeUndefined();
  const { first, trial } = yielding!;
  const degrees = 180 / Math.PI;
  console.log(
    `steep gables and V bend: neutral at ${first.neutral.motion.toFixed(2)} mm, gap ${first.neutral.loops[0].legGap.toFixed(2)} mm; ` +
      `after a trial activation of 3 mm at ${neutral!.motion.toFixed(2)} mm, gap ${neutral!.loops[0].legGap.toFixed(2)} mm, ` +
      `set ${(trial!.setTurn * degrees).toFixed(0)} deg, no further set up to ${trial!.largestWithoutSet?.toFixed(2)} mm; ` +
      `at 2 mm gap ${stages[4].state!.loops[0].legGap.toFixed(2)} mm, leg angle ${(stages[4].state!.loops[0].legAngle * degrees).toFixed(0)} deg`,
  );
  expect(first.neutral.stress).toBeGreaterThan(run.design.alloy.yield);
  expect(trial!.setTurn * degrees).toBeGreaterThan(20);
  expect(neutral!.motion).toBeGreaterThan(first.neutral.motion);
  expect(Math.abs(neutral!.loops[0].legGap)).toBeGreaterThan(3);
  expect(Math.abs(neutral!.loops[0].legGap)).toBeLessThan(5);
  // The gap comes back to about the passive one. The legs do not come quite parallel in the model: their angle is printed only.
  const passive = trial!.passiveLoops[0].legGap;
  expect(Math.abs(stages[4].state!.loops[0].legGap - passive)).toBeLessThan(1);
  // About 2 mm may be used without further set.
  expect(trial!.largestWithoutSet!).toBeGreaterThan(1.5);
});

test('the same conventions on the example files', () => {
  const example = (name: string) => runSpring(readFileSync(`examples/${name}.spring`, 'utf8'));
  const vBend = example('01-v-bend').analysis.neutral!;
  expect(vBend.wrenches[0].moment[2]).toBeLessThan(0);
  expect(vBend.wrenches[1].force[1]).toBeGreaterThan(0);

  const gabled = example('03-t-loop').analysis.neutral!;
  expect(gabled.wrenches[0].moment[2]).toBeLessThan(0);
  expect(gabled.wrenches[1].moment[2]).toBeGreaterThan(0);

  for (const name of ['02-open-vertical-loop', '03-t-loop', '06-space-closing-spring']) {
    const run = example(name);
    const { wrenches } = stageOf(run, run.analysis.stages.length - 1);
    expect(wrenches[1].force[0], name).toBeLessThan(0);
    expect(wrenches[0].force[0], name).toBeGreaterThan(0);
    expect(Math.abs(wrenches[0].force[0] + wrenches[1].force[0])).toBeLessThan(1e-9 * wrenches[0].force[0]);
  }

  const spring = example('06-space-closing-spring');
  const { wrenches } = stageOf(spring, 3);
  expect(wrenches[0].moment[2]).toBeLessThan(0);
  expect(wrenches[1].force[1]).toBeGreaterThan(0);

  // One couple: the incisors take a force only, and are intruded by it.
  const cantilever = example('04-intrusion-cantilever');
  const [tube, hook] = cantilever.analysis.stages[0].state!.wrenches;
  expect(hook.force[1]).toBeGreaterThan(0);
  expect(Math.abs(hook.force[0])).toBeLessThan(1e-9 * hook.force[1]);
  expect(tube.moment[2]).toBeLessThan(0);
  for (const moment of hook.moment) expect(Math.abs(moment)).toBeLessThan(1e-9 * Math.abs(tube.moment[2]));
});
