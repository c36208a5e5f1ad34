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

const cantilever = ({ place = ' at molar 3 mm gingival 1 mm buccal', rise = '0.2 mm gingival', lines = '' } = {}) => `
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
  hook front at 20 mm mesial ${rise}
${lines}}
`;

const evaluated = (text: string) => {
  const { appliances, problems } = resolveText(text);
  return { problems, appliances: appliances.map((appliance) => evaluateAppliance(appliance, text)) };
};

/** N mm², of the cantilever's round wire; the tube holds it for 2 mm beyond its middle, so that 18 mm are free. */
const rigidity = 180_000 * ((Math.PI * (0.016 * 25.4) ** 4) / 64);
const [free, half] = [18, 2];

describe('a tooth that two wires hold', () => {
  /**
   * A cantilever of length L from the tube's edge, its end raised by δ: F = 3 E I δ / L³, and F L at the edge (handbook 3.5).
   * Statics: at the main slot's middle the moment grows by half the tube's length and by the levers of the offset,
   * r × F with r = (1, 3, 1) mm. Small deflection and shear: 0.2 %.
   */
  it.each([
    // Raised, it pulls the tooth up and tips its crown mesially: (1, 3, 1) × (0, F, 0) = (-F, 0, F).
    ['gingival', (f: number) => ({ force: [0, f, 0], moment: [-f, 0, f * (free + half + 1)] })],
    // Brought out, it pulls the tooth out and turns its mesial side out: (1, 3, 1) × (0, 0, F) = (3 F, -F, 0).
    ['buccal', (f: number) => ({ force: [0, 0, f], moment: [3 * f, -f * (free + half + 1), 0] })],
  ])('feels their sum about the middle of the slot of the main wire, with an end raised to %s', (way, statics) => {
    const place = ' at molar 1 mm mesial 3 mm gingival 1 mm buccal';
    const { appliances, problems } = evaluated(`${main()}${cantilever({ place, rise: `0.2 mm ${way}` })}`);
    expect(problems).toEqual([]);
    const [both, spring] = appliances;
    const alone = analyseAppliance(both.appliance.design!);
    const [own, sum] = [alone.stages[0].state!.wrenches, both.analysis!.stages[0].state!.wrenches];
    const size = (3 * rigidity * 0.2) / free ** 3;
    const expected = statics(size);
    for (let k = 0; k < 3; k++) {
      expect(Math.abs(sum[0].force[k] - own[0].force[k] - expected.force[k])).toBeLessThan(3e-3 * size);
      expect(Math.abs(sum[0].moment[k] - own[0].moment[k] - expected.moment[k])).toBeLessThan(3e-3 * size * free);
    }
    // The auxiliary's own lines tell its share at its own tube; the canine feels the main wire alone.
    const share = spring.analysis!.stages[0].state!.wrenches[0];
    expect(Math.hypot(...share.force)).toBeCloseTo(Math.hypot(...sum[0].force.map((f, k) => f - own[0].force[k])), 12);
    for (let k = 0; k < 3; k++) {
      expect(sum[1].force[k]).toBe(own[1].force[k] + 0);
      expect(sum[1].moment[k]).toBe(own[1].moment[k] + 0);
    }
  });

  /** The end stays where it is: what is left of its rise, 0.2 mm, is 0.2 mm - d once the tooth has moved by d toward it. */
  it('carries the auxiliary along where the activation moves it', () => {
    const move = '  activation move molar gingival 0 mm .. 0.04 mm step 0.01 mm\n';
    const { appliances, problems } = evaluated(`${main(move)}${cantilever()}`);
    expect(problems).toEqual([]);
    const [both] = appliances;
    const alone = analyseAppliance(both.appliance.design!);
    expect(both.analysis!.stages).toHaveLength(5);
    for (const [k, { state }] of both.analysis!.stages.entries()) {
      const own = alone.stages[k].state!;
      const size = (3 * rigidity * (0.2 - own.motion)) / free ** 3;
      expect(Math.abs(state!.wrenches[0].force[1] - own.wrenches[0].force[1] - size)).toBeLessThan(3e-3 * size);
      const levered = size * (free + half);
      expect(Math.abs(state!.wrenches[0].moment[2] - own.wrenches[0].moment[2] - levered)).toBeLessThan(3e-3 * levered);
    }
  });

  /**
   * A cantilever over a hook at a and on to a hook at L that stays: of a load at p its deflection at q ≤ p is q² (3p - q) / 6EI
   * (handbook 3.5), and two loads bring the wire to d at a and to nothing at L.
   */
  it('carries along one that the tooth only supports on its way', () => {
    const move = '  activation move canine gingival 0 mm .. 0.04 mm step 0.02 mm\n';
    const hook = cantilever({ rise: '', lines: '  hook canine at 12 mm mesial\n' });
    const { appliances, problems } = evaluated(
      `${main(move)}${hook.replace('20 mm\n', '12 mm seat canine straight 8 mm\n')}`,
    );
    expect(problems).toEqual([]);
    const [both, spring] = appliances;
    expect(spring.problems).toEqual([]);
    const alone = analyseAppliance(both.appliance.design!);
    const [a, L] = [12 - half, free];
    const [aa, aL, LL] = [(2 * a ** 3) / 6, (a ** 2 * (3 * L - a)) / 6, (2 * L ** 3) / 6];
    for (const [k, { state }] of both.analysis!.stages.entries()) {
      const own = alone.stages[k].state!;
      const size = (rigidity * own.motion * LL) / (aa * LL - aL ** 2);
      // What the wire feels the tooth feels the other way.
      expect(Math.abs(state!.wrenches[1].force[1] - own.wrenches[1].force[1] + size)).toBeLessThan(
        3e-3 * Math.abs(size),
      );
    }
    expect(Math.abs(alone.stages[2].state!.motion)).toBeGreaterThan(0.01);
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
    const text = `${main()}${cantilever({ rise: 'tip_back / 1 deg * 0.1 mm gingival' })}
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

  it('is that what it does is not known, and so not what its teeth feel', () => {
    const wanted = `  require when engaged { molar.force.total <= 9 N }
//                       ^^^^^^^^^^^^^^^^^^^^^^^^ error requirement-not-evaluable: auxiliary wire spring has no force system
`;
    const named = (text: string) =>
      text.replace(
        'appliance held {',
        `appliance held {
        //^^^^ error auxiliary-without-forces: "held" has no force system, as its auxiliary wire spring has none.`,
      );
    const short = cantilever().replace('hook front at 20', 'tube front length 2 mm at 24');
    checkProblems(
      named(`${main(wanted)}${short}`).replace(
        'path running mesial {\n    straight 4 mm\n    seat molar\n    straight 20',
        `path running mesial {
//^^^^ error span-exceeds-wire
    straight 4 mm
    seat molar
    straight 20`,
      ),
      { mechanics: true },
    );
    checkProblems(
      named(`${main(wanted)}${cantilever()}`).replace(
        'wire round 0.016 in of steel stress relieved',
        `wire round 0.016 in of stel stress relieved
  //                     ^^^^ error unknown-name`,
      ),
      { mechanics: true },
    );
  });

  it('is nothing to a main wire with which it shares no tooth', () => {
    const apart = cantilever()
      .replace('hook front at 20', 'tube front length 2 mm at 24')
      .replace('seat molar', 'seat second')
      .replace('tube molar', 'tube second');
    const [both, spring] = evaluated(`${main()}${apart}`).appliances;
    expect(spring.analysis!.failure?.reason).toBe('span-exceeds-wire');
    expect(both.analysis!.stages[0].state).toBeDefined();
  });

  it('is that there are too many', () => {
    const many = Array.from({ length: 9 }, (_, k) => cantilever().replace('auxiliary spring', `auxiliary spring_${k}`));
    checkProblems(
      `${main()}${many.join('').replace(
        'auxiliary spring_8 of held at molar 3 mm gingival 1 mm buccal {',
        `auxiliary spring_8 of held at molar 3 mm gingival 1 mm buccal {
        //^^^^^^^^ error limit-exceeded: Auxiliary wires of "held": 9 are asked for, at most 8 are possible.`,
      )}`,
    );
  });
});
