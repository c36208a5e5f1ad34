import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import { evaluateAppliance } from '#model/evaluate';
import { plain } from '#report/paint';
import { buildAnalyzeReport, buildCheckReport } from '#report/report';
import { checkText } from '#report/text';
import { createWorkspace } from '#workspace/workspace';
import { applyFix, checkProblems } from './fixture';
import { resolveText } from './resolve-text';

const appliance = (angle = '10 deg', name = 'v_bend') => `use "alloys"
appliance ${name} {
  wire 0.017 in x 0.025 in of beta_titanium stress relieved
  param angle = ${angle} in 5 deg .. 20 deg
  param arm = 9 mm in 6 mm .. 12 mm
  path running mesial {
    straight 4 mm
    seat molar
    straight 3 mm
    preactivate angle toward gingival
    straight arm
    seat canine
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 2 mm
  hook canine
  require when engaged { molar.moment.crown_distal <= 15 N mm }
}
`;

describe('a variant', () => {
  it('is the appliance with other values of some parameters', () => {
    const text = `${appliance()}variant strong of v_bend { angle = 15 deg }\n`;
    const { appliances, problems } = resolveText(text);
    expect(problems).toEqual([]);
    expect(appliances.map(({ name }) => name)).toEqual(['v_bend', 'strong']);
    const [changed] = resolveText(appliance('15 deg')).appliances;
    expect(appliances[1].design).toEqual(changed.design);
    expect(appliances[1].parameters.map(({ value }) => value?.value)).toEqual([Math.PI / 12, 9]);
    // Requirements are those of the appliance.
    expect(appliances[1].requirements).toEqual(appliances[0].requirements);
    expect(evaluateAppliance(appliances[1], text).analysis).toEqual(evaluateAppliance(changed, text).analysis);
  });

  it('may stand before its appliance and keeps the order of the file', () => {
    const text = `use "alloys" variant strong of v_bend { angle = 15 deg }\n${appliance().replace('use "alloys"', '')}`;
    const { appliances, problems } = resolveText(text);
    expect(problems).toEqual([]);
    expect(appliances.map(({ name, variant }) => [name, variant?.base?.text])).toEqual([
      ['strong', 'v_bend'],
      ['v_bend', undefined],
    ]);
  });

  it('is held to the ranges, names and dimensions of the parameters, at its own lines', () => {
    checkProblems(`${appliance()}
variant strong of v_bend {
  angle = 30 deg
  //      ^^^^^^ error value-out-of-range: angle is 30 deg, outside its range of 5 deg to 20 deg
}
variant misspelt of v_bend {
  angel = 10 deg
//^^^^^ error unknown-argument: v_bend has no parameter "angel"
}
variant wrong of v_bend {
  angle = 3 mm
  //      ^^^^ error unit-mismatch: length
}
variant twice of v_bend {
  arm = 8 mm
  arm = 9 mm
//^^^ error duplicate-argument: given twice
}
variant unknown of w_bend {
  //               ^^^^^^ error unknown-name: There is no appliance called "w_bend" here. Did you mean "v_bend"?
}
variant of_a_value of limit {}
//                    ^^^^^ error wrong-kind-of-name: a named value
let limit = 3 mm
variant v_bend of v_bend {}
//      ^^^^^^ error duplicate-name
`);
    const misspelt = `${appliance()}variant a of v_bend { angel = 10 deg }`;
    expect(applyFix(misspelt, 'Write angle')).toContain('{ angle = 10 deg }');
  });

  it('tells what only it gets wrong at its name, with the line that it is about', () => {
    const text = `${appliance()}variant strong of v_bend { angle = 14 deg }\n`;
    checkProblems(
      `${text.trimEnd()}
//      ^^^^^^ error requirement-missed: With the values of this variant
`,
      { mechanics: true },
    );
    const [, variant] = resolveText(text).appliances;
    const [problem] = evaluateAppliance(variant, text).problems;
    const place = problem.related?.at(-1)?.span;
    expect(text.slice(place?.start, place?.end)).toBe('molar.moment.crown_distal <= 15 N mm');
  });

  it('does not repeat what is wrong with its appliance', () => {
    const broken = `${appliance('10 deg').replace('straight arm', 'straight arn')}variant strong of v_bend { angle = 14 deg }\n`;
    const codes = resolveText(broken).problems.map(({ code }) => code);
    expect(codes.filter((code) => code === 'unknown-name')).toHaveLength(1);
  });

  it('is parsed with holes', () => {
    for (const half of [
      'variant',
      'variant a',
      'variant a of',
      'variant a of b',
      'variant a of b {',
      'variant a of b { c',
      'variant a of b { c =',
    ]) {
      const { tree, problems } = parse(half);
      expect(problems.length).toBeGreaterThan(0);
      expect(tree.items.map(({ kind }) => kind)).toEqual(['variant']);
      expect(() => resolveText(half)).not.toThrow();
    }
  });

  it('stands in the report under its name', async () => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    const text = `${appliance()}variant strong of v_bend { angle = 12 deg }\n`;
    workspace.open('file:///a.spring', text, 1);
    const snapshot = (await workspace.snapshot('file:///a.spring'))!;
    const input = [{ path: 'a.spring', ...snapshot }];
    const [file] = buildAnalyzeReport(input, { version: '0', model: 'full' }).files;
    expect(file.appliances.map(({ name, variantOf, line }) => [name, variantOf, line])).toEqual([
      ['v_bend', null, 2],
      ['strong', 'v_bend', 19],
    ]);
    const check = checkText(buildCheckReport(input, { version: '0', model: 'full' }), {
      units: { force: 'gf' },
      paint: plain,
    });
    expect(check).toContain('strong, variant of v_bend a.spring:19');
  });
});
