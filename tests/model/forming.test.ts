/** Stress that forming leaves in bends, as a file says how they were made. */
import { describe, expect, it } from 'vitest';
import { overbend, plasticMomentRatio, yieldRatio } from '#core/material/springback';
import { evaluateAppliance } from '#model/evaluate';
import { checkProblems } from './fixture';
import { resolveAppliance } from './resolve-text';

const path = (steps: string, alloy = 'steel') =>
  `use "alloys"
appliance formed {
  wire 0.017 in x 0.025 in of ${alloy}
  path running mesial {
    straight 4 mm
    seat molar
    straight 2 mm
    ${steps}
    straight 2 mm
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine length 4 mm
  activation move canine mesial 0 mm .. 0 mm
}
`.replace('bracket canine length', 'tube canine length');

const formingOf = (text: string) =>
  resolveAppliance(text).design?.elements.flatMap(({ forming }) => (forming ? [forming.furthest] : []));

const useOf = (text: string) =>
  evaluateAppliance(resolveAppliance(text), text).analysis?.stages[0].state?.elasticUse ?? Number.NaN;

describe('how a bend is made', () => {
  it('is kept for bends, preactivation and helices, and not for corners, straights and twists', () => {
    const steps = [
      'bend 20 deg toward gingival',
      'bend 20 deg toward occlusal radius 0 mm',
      'preactivate 10 deg toward gingival back from 15 deg',
      'twist 5 deg over 3 mm',
      'helix 1 turn diameter 3 mm toward gingival',
    ];
    expect(formingOf(path(steps.join('\n    ')))).toEqual([1, 1.5, ...(formingOf(path(steps[4])) ?? [])]);
    expect(new Set(formingOf(path(steps[4])))).toEqual(new Set([1]));
  });

  it('leaves nothing in a wire that is relieved of stress, nor after a change of its section', () => {
    const steps = 'section 0.016 in x 0.022 in\n    bend 20 deg toward gingival';
    expect(formingOf(path(steps))).toEqual([1]);
    expect(formingOf(path(steps, 'steel stress relieved'))).toEqual([]);
  });

  it('is refused where a bend would be bent back from no further than itself', () => {
    checkProblems(
      path(`preactivate 20 deg toward gingival back from 15 deg
    //                                           ^^^^^^ error bent-back-too-little: left at 20 deg and cannot be bent back from 15 deg`),
    );
    checkProblems(
      path(`preactivate 20 deg toward gingival back from -25 deg
    //                                           ^^^^^^^ error bent-back-too-little`),
    );
    checkProblems(
      path(`preactivate 20 deg toward gingival back from 3 mm
    //                                           ^^^^ error unit-mismatch`),
    );
  });
});

/**
 * A shallow arc held straight by equal couples bears M = E I κ everywhere. Forming left it a yield moment of 2 - m of the
 * first one, m being the plastic moment of forming over that (handbook 3.4; opened, its surface begins at m - 1 of yield).
 */
describe('an arc held straight', () => {
  const radius = 60;
  const arc = (rest = '') => `preactivate 10 deg toward gingival radius ${radius} mm${rest}`;
  const { alloy } = resolveAppliance(path(arc())).design!;
  const height = 0.017 * 25.4;
  const nominal = (alloy.modulus * height) / (2 * radius * alloy.yield);

  it('uses the elastic range that forming has left it', () => {
    const load = overbend({ kind: 'round', diameter: height }, alloy, height, 1, radius).radius;
    expect(load).toBeLessThan(radius);
    const rectangle = { kind: 'rectangle', height, width: height, cornerRadius: 0 } as const;
    const formed = overbend(rectangle, alloy, height, 1, radius).radius;
    const left = 2 - plasticMomentRatio('rectangle', yieldRatio(alloy, height, formed));
    // Layers meet the moment to 1 %; shear and stretch take off a thousandth.
    expect(Math.abs(useOf(path(arc())) / (nominal / left) - 1)).toBeLessThan(0.012);
  });

  it('uses what a free wire has where it is relieved, or was bent further and back', () => {
    for (const text of [path(arc(), 'steel stress relieved'), path(arc(' back from 30 deg'))]) {
      expect(Math.abs(useOf(text) / nominal - 1)).toBeLessThan(2e-3);
    }
  });
});

it('tells of a bend that is opened past what forming has left it, and not where it is squeezed, relieved or bent back', () => {
  const told = (wire: string, way: string, rest = '') => {
    const text = path(
      `bend 60 deg toward gingival radius 2 mm${rest}
    straight 5 mm
    bend 120 deg toward occlusal radius 2 mm${rest}
    straight 5 mm
    bend 60 deg toward gingival radius 2 mm${rest}`,
      wire,
    ).replace('mesial 0 mm .. 0 mm', `${way} 0 mm .. 0.8 mm step 0.8 mm`);
    const { problems } = evaluateAppliance(resolveAppliance(text), text);
    return problems.flatMap(({ code, message }) => (code === 'loaded-against-bend' ? [message] : []));
  };
  expect(told('steel', 'mesial')).toEqual([
    expect.stringMatching(
      /^A bend is loaded against the sense in which it was last bent, with 1\.\d+ times what it bears/,
    ),
  ]);
  expect(told('steel', 'distal')).toEqual([]);
  expect(told('steel stress relieved', 'mesial')).toEqual([]);
  expect(told('steel', 'mesial', ' back from 130 deg')).toEqual([]);
});
