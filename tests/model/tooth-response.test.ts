/** Groups of teeth and visits as they are written, and what is said of them. */
import { describe, expect, it } from 'vitest';
import { evaluateAppliance } from '#model/evaluate';
import { groupFigures, movementWords } from '#model/tooth-movement';
import type { VisitPlan } from '#model/visit-plan';
import { checkProblems } from './fixture';
import { resolveText } from './resolve-text';

const appliance = (lines: string, { teeth = true, name = 'closing', tubes = true } = {}) => `use "alloys"
use "loops"
${teeth ? 'use "teeth"\n' : ''}appliance ${name} {
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
  tube molar ${tubes ? 'on tooth 16, ' : ''}slot 0.022 in x 0.028 in, length 4 mm
  bracket canine ${tubes ? 'on tooth 13, ' : ''}slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 2 mm step 0.5 mm
${lines}}
`;

const groups = '  group anchor of molar, on teeth 15 .. 17\n  group front of canine, on teeth 11 .. 13, both sides\n';

function evaluated(text: string) {
  const { appliances, problems } = resolveText(text);
  expect(problems).toEqual([]);
  return evaluateAppliance(appliances[0], text);
}

describe('groups', () => {
  it('their centres of resistance are the mean of the teeth’s own, by root surface', () => {
    const { groups: found } = evaluated(appliance(groups)).appliance.design!;
    const [anchor, front] = found;
    // By hand from the bundled tooth data, from the molar's tube: second premolar (220 mm²) 8.5 mm mesial, 9.5 gingival, 4.5
    // lingual; first molar (433 mm²) 2.54 distal, 7.86 gingival, 4.94 lingual; second molar (431 mm²) 9.5 distal, 8, 5.
    const mean = (values: number[]) => (220 * values[0] + 433 * values[1] + 431 * values[2]) / 1084;
    expect(anchor.resistance[0]).toBeCloseTo(mean([8.5, -2.54, -9.5]), 6);
    expect(anchor.resistance[1]).toBeCloseTo(mean([9.5, 7.86, 8]), 6);
    expect(anchor.resistance[2]).toBeCloseTo(-mean([4.5, 4.94, 5]), 6);
    expect(anchor.rootArea).toBeCloseTo(1084, 6);
    // Canine, lateral and central incisor: 273, 179, 204 mm²; half of 7.5 mm, 6.5 mm and half of 8.5 mm apart.
    const [lateral, central] = [(7.5 + 6.5) / 2, 7.5 / 2 + 6.5 + 8.5 / 2];
    const place = (179 * lateral + 204 * central) / 656;
    const canine = found[1].resistance[0] - place;
    expect(canine).toBeCloseTo(evaluated(appliance(groups)).appliance.design!.attachments[1].seatedWire.position[0], 6);
    expect(front.rootLength).toBeCloseTo((273 * 17 + 179 * 13 + 204 * 13) / 656, 6);
    // Front teeth stand abreast, those from the canine back in a row.
    expect(front.rowSpread).toBe(0);
    const row = [8.5, 0, -9.5];
    const middle = mean(row);
    expect(anchor.rowSpread).toBeCloseTo(mean(row.map((x) => (x - middle) ** 2)), 6);
  });

  it('a given centre stands where it is said, whole arches included', () => {
    const text = appliance('  group anchor of molar, resistance 8 mm gingival 1 mm distal from molar, root 12 mm\n');
    const [anchor] = evaluated(text).appliance.design!.groups;
    expect(anchor.resistance).toEqual([-1, 8, 0]);
    expect(anchor.rootLength).toBe(12);
  });

  it('force and moment at the centre by statics', () => {
    const { analysis, appliance: one } = evaluated(appliance(groups));
    const state = analysis!.stages.at(-1)!.state!;
    const [, front] = groupFigures(one.design!, state);
    const { force, moment } = state.wrenches[1];
    const arm = one.design!.groups[1].resistance.map((x, k) => x - state.places[1][k]);
    // Moving a force from the bracket adds the moment of the lever back to it: (-r) × F.
    const moved = moment[2] + -arm[0] * force[1] - -arm[1] * force[0];
    expect(front.wrench.moment[2]).toBeCloseTo(moved, 9);
    expect(front.along?.lineOfAction).toBeCloseTo(moved / force[0], 9);
  });

  it('names no attachment, one that is taken, or no place', () => {
    checkProblems(
      appliance(
        `  group anchor on teeth 15 .. 17
//      ^^^^^^ error group-member: No attachment of this appliance stands on the teeth of anchor
`,
        { tubes: false },
      ),
    );
    checkProblems(
      appliance(`  group anchor of molar, on teeth 15 .. 17
  group other of molar and canine, on teeth 11 .. 13
//               ^^^^^ error group-member: molar belongs to anchor already
`),
    );
    checkProblems(
      appliance(
        `  group anchor of molar
//      ^^^^^^ error resistance-unknown: Where the centre of resistance of anchor lies
`,
        { teeth: false, tubes: false },
      ),
    );
    checkProblems(
      appliance(`  group anchor of molar, on teeth 15 .. 17, root 12 deg
//                                               ^^^^^^ error unit-mismatch: angle
`),
    );
  });

  it('have results of their own, which an attachment has not', () => {
    checkProblems(
      appliance(`${groups}  require at activation 2 mm {
    front.line_of_action > 0 mm
    anchor.root_pressure < 10 kPa
    canine.line_of_action > 0 mm
//         ^^^^^^^^^^^^^^ error unknown-name: result of canine
  }
`),
    );
  });
});

describe('words of movement', () => {
  // Root of 12 mm, depth of the centre 9.8 mm: handbook 6.2. Classes shade into each other; these are well within.
  const of = (lineOfAction: number) =>
    movementWords({ force: -1, lineOfAction, rotationCentre: 9.874 / lineOfAction }, 'along', 12, 9.8).words;
  it.each([
    [9.8, 'uncontrolled tipping'],
    [1.371, 'controlled tipping'],
    [0.5, 'between controlled tipping and translation'],
    [0.1, 'translation'],
    [-0.5, 'between translation and root movement'],
    [-1.008, 'root movement'],
    [-3, 'moves its root distally and its crown mesially'],
  ])('line of action %d mm occlusal: %s', (line, words) => {
    expect(of(line)).toContain(words);
    if (Math.abs(line) > 0.3) expect(of(line)).toMatch(/mm (occlusal|apical) of its centre of resistance$/);
  });
});

describe('visits', () => {
  const visits = (clauses: string) => `${groups}  visits ${clauses}\n`;

  it('are followed with the results that requirements name', () => {
    const { verdicts, plan, problems } = evaluated(
      appliance(`${visits('every 6 weeks, close 4 mm between canine and molar, activate 2 mm')}  require over visits {
    plan.closed <= 4.001 mm
    front.crown_moved.distal + anchor.crown_moved.mesial <= 4.01 mm
    plan.weeks < 60
    plan.reactivations < 4
  }
`),
    );
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    const { usual, others } = plan as VisitPlan;
    expect(usual.end.kind).toBe('closed');
    expect(usual.points.at(-1)?.closed).toBeCloseTo(4, 3);
    expect(others.map(({ what }) => what)).toEqual(['slow', 'fast']);
    expect(others[0].course.duration).toBeGreaterThan(usual.duration);
    expect(others[1].course.duration).toBeLessThan(usual.duration);
    expect(verdicts.map(({ outcome }) => outcome)).toEqual(['met', 'met', 'met', 'met']);
    // The crowns make up the whole of what has closed: the space lies along the arch, but for a tip of some degrees.
    const { groups: places } = usual.points.at(-1)!;
    expect(places[0].crownMoved[0] - places[1].crownMoved[0]).toBeCloseTo(4, 1);
  });

  it('reactivate by the file’s own rule', () => {
    const often = evaluated(
      appliance(visits('every 6 weeks, close 4 mm between canine and molar, activate 2 mm')),
    ).plan;
    const seldom = evaluated(
      appliance(
        visits(
          'every 6 weeks, close 4 mm between canine and molar, activate 2 mm, reactivate when canine.force.distal < 50 gf',
        ),
      ),
    ).plan;
    const [a, b] = [often, seldom].map((plan) => (plan as VisitPlan).usual);
    expect(b.reactivations).toBeLessThan(a.reactivations);
    expect(b.duration).toBeGreaterThan(a.duration);
    for (const { done, found } of b.visits.slice(1, -1)) {
      const pull = -found.state.wrenches[1].force[0];
      expect(done).toBe(pull < 50 * 0.00980665 ? 'reactivated' : 'left');
    }
  });

  it('say what is missing or wrong', () => {
    checkProblems(
      appliance(`${groups}  visits close 4 mm between canine and molar, activate 2 mm
//^^^^^^ error visits-incomplete: how often
`),
    );
    checkProblems(
      appliance(`${groups}  visits every 6 weeks
//^^^^^^ error visits-incomplete: how far the wire is activated
`),
    );
    checkProblems(
      appliance(`  visits every 6 weeks, activate 2 mm
//^^^^^^ error visits-incomplete: No group of teeth
`),
    );
    checkProblems(
      appliance(`${groups}  visits every 6 mm, activate 2 mm
//             ^^^^ error unit-mismatch: length
`),
    );
    checkProblems(
      appliance(`${groups}  visits every 6 weeks, activate 2 mm, reactivate when canine.force.distal
//                                                     ^^^^^^^^^^^^^^^^^^^ error visits-incomplete: by a condition
`),
    );
    checkProblems(
      appliance(`${groups}  require over visits { plan.weeks < 30 }
//^^^^^^^ error visits-not-declared: declares none
`),
    );
  });

  it('warn of a space that stays open and of a pull that is used up', () => {
    checkProblems(
      appliance(`${groups}  visits every 30 weeks, close 4 mm between canine and molar, activate 1.5 mm, rate 1 mm/month, within 50 weeks
//^^^^^^ warning space-not-closed: have closed, and the time is up
//^^^^^^ warning activation-used-up: are left of a pull of
`),
      { mechanics: true },
    );
  });
});

describe('loads on groups', () => {
  it('are held against what is usual for each tooth, by how the group would move', () => {
    // 2 mm of activation pull about 170 gf: 57 gf for each of three teeth, 170 gf where one tooth is alone.
    const alone = appliance(
      `  group single of canine, on tooth 13
//      ^^^^^^ warning force-beyond-usual: that are usual at most for uncontrolled tipping (found on teaching pages
`,
    );
    checkProblems(alone, { mechanics: true });
    checkProblems(appliance(groups), { mechanics: true });
  });
});
