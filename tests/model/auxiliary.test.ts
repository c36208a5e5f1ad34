/** Further wires of an appliance, and what all of them together do to a tooth. */
import { describe, expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import { evaluateAppliance } from '#model/evaluate';
import { checkProblems } from './fixture';
import { resolveText } from './resolve-text';

const main = (member = '', site = '') => `use "alloys"
appliance held${site} {
  wire 0.017 in x 0.025 in of steel
  param tip_back = 2 deg in 1 deg .. 3 deg
  path running mesial {
    straight 4 mm
    seat molar
    straight 6 mm
    preactivate tip_back toward gingival radius 0 mm
    straight 6 mm
    seat canine
    straight 4 mm
  }
  tube molar slot 0.018 in x 0.025 in, length 4 mm
  bracket canine slot 0.018 in x 0.025 in, width 3 mm
${member}}
`;

const cantilever = ({ place = ' at molar 3 mm gingival 1 mm buccal', rise = '0.2 mm', lines = '' } = {}) => `
auxiliary spring of held${place} {
  wire round 0.016 in of steel stress relieved
  path running mesial {
    straight 4 mm
    seat molar
    straight 20 mm
    seat front
    straight 2 mm
  }
  tube molar length 4 mm
  hook front at 20 mm mesial ${rise} gingival
${lines}}
`;

const evaluated = (text: string) => {
  const { appliances, problems } = resolveText(text);
  return { problems, appliances: appliances.map((appliance) => evaluateAppliance(appliance, text)) };
};

describe('a tooth that two wires hold', () => {
  /**
   * A cantilever of length L from the tube's edge, its end raised by δ: F = 3 E I δ / L³, and F L at the edge (handbook 3.5).
   * Statics: at the main slot's middle the moment grows by half the tube's length and by the offset's levers.
   */
  it('feels their sum, about the middle of the slot of the main wire', () => {
    const text = `${main()}${cantilever()}`;
    const { appliances, problems } = evaluated(text);
    expect(problems).toEqual([]);
    const [both, spring] = appliances;
    const alone = analyseAppliance(both.appliance.design!);
    const [own, sum] = [alone.stages[0].state!.wrenches[0], both.analysis!.stages[0].state!.wrenches[0]];
    const [length, height, side] = [18, 3, 1];
    const diameter = 0.016 * 25.4;
    const force = (3 * 180_000 * ((Math.PI * diameter ** 4) / 64) * 0.2) / length ** 3;
    const more = {
      force: sum.force.map((f, k) => f - own.force[k]),
      moment: sum.moment.map((m, k) => m - own.moment[k]),
    };
    // The raised end pulls the wire up: the tooth is pushed up and its crown mesially. Small deflection, shear: 0.2 %.
    const near = (value: number, expected: number, size: number) =>
      expect(Math.abs(value - expected)).toBeLessThan(3e-3 * Math.abs(size));
    near(more.force[1], force, force);
    near(more.force[0], 0, force);
    near(more.force[2], 0, force);
    // (0, height, side) × (0, F, 0) = (-side F, 0, 0), and the couple F (L + 2 mm) about buccal.
    near(more.moment[2], force * (length + 2), force * length);
    near(more.moment[0], -side * force, force);
    near(more.moment[1], 0, force);
    expect(height).toBeGreaterThan(0);
    expect(spring.analysis!.stages[0].state!.wrenches[0].force[1]).toBeCloseTo(more.force[1], 12);
    // The canine feels the main wire alone.
    expect(both.analysis!.stages[0].state!.wrenches[1]).toEqual({
      force: alone.stages[0].state!.wrenches[1].force.map((x) => x + 0),
      moment: alone.stages[0].state!.wrenches[1].moment.map((x) => x + 0),
    });
  });

  it('is the mirror image on the other side', () => {
    const right = evaluated(`${main()}${cantilever()}`).appliances[0];
    const left = evaluated(`${main('', ' on upper left')}${cantilever()}`).appliances[0];
    const [a, b] = [right, left].map(({ analysis }) => analysis!.stages[0].state!.wrenches[0]);
    for (let k = 0; k < 3; k++) {
      expect(b.force[k]).toBeCloseTo(a.force[k], 9);
      expect(b.moment[k]).toBeCloseTo(a.moment[k], 9);
    }
  });

  it('is what requirements of the appliance speak of; those of the auxiliary speak of its share', () => {
    const wanted = '  require when engaged { molar.force.occlusal < 12 gf }\n';
    expect(evaluated(main(wanted)).appliances[0].verdicts[0].outcome).toBe('missed');
    const text = `${main(wanted)}${cantilever({ lines: '  require when engaged { front.force.occlusal > 0.02 N }\n' })}`;
    const { appliances } = evaluated(text);
    expect(appliances.map(({ verdicts }) => verdicts.map(({ outcome }) => outcome))).toEqual([['met'], ['met']]);
  });

  it('follows the values of a variant', () => {
    const text = `${main()}${cantilever({ rise: 'tip_back / 1 deg * 0.1 mm' })}
variant strong of held { tip_back = 3 deg }
`;
    const { appliances, problems } = evaluated(text);
    expect(problems).toEqual([]);
    expect(appliances.map(({ appliance }) => appliance.name)).toEqual(['held', 'spring', 'strong']);
    const share = (k: number) => appliances[k].further[0].analysis.stages[0].state!.wrenches[1].force[1];
    expect(share(2) / share(0)).toBeCloseTo(1.5, 2);
  });
});

describe('what is wrong with an auxiliary', () => {
  it('is told at its lines', () => {
    checkProblems(
      `${main()}${cantilever({ place: '' }).replaceAll('molar', 'second')}`.replace(
        'auxiliary spring of held {',
        `auxiliary spring of held {
        //^^^^^^ error auxiliary-place: where the first seat of this wire stands in "held"`,
      ),
    );
    checkProblems(
      `${main()}${cantilever({ place: ' at premolar 1 mm gingival' }).replace(
        'gingival {',
        `gingival {
        //                  ^^^^^^^^ error unknown-name: premolar`,
      )}`,
    );
    checkProblems(
      `${main()}${cantilever({
        lines: `  activation move front gingival 0 mm .. 1 mm step 1 mm
//^^^^^^^^^^ error auxiliary-member: Write this line into the appliance that it belongs to
`,
      })}`,
    );
    checkProblems(
      `${main()}${cantilever()
        .replace('of held at', `of hold at`)
        .replace(
          'buccal {',
          `buccal {
        //          ^^^^ error unknown-name: hold`,
        )}`,
    );
  });

  it('is that its appliance moves a tooth that it holds', () => {
    checkProblems(
      `${main(`  activation move molar gingival 0 mm .. 0.02 mm step 0.02 mm
//^^^^^^^^^^ warning auxiliary-not-moved: moves molar, which spring holds too
`)}${cantilever()}`,
      { mechanics: true },
    );
  });
});
