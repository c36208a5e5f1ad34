/** No file can hang the editor: whatever it asks for, what is walked and what is solved stays below counted limits. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import { FILE_LIMITS, LIMITS } from '#model/path/layout';
import { resolveText } from './resolve-text';

const appliance = (path: string, name = 'hostile', stages = '0 mm .. 1 mm step 0.5 mm') => `appliance ${name} {
  wire round 0.016 in of steel
  path running mesial {
    straight 3 mm
    seat a
    ${path}
    seat b
    straight 3 mm
  }
  tube a
  tube b
  activation pull through a ${stages}
}
`;

const range = (count: number) => Array.from({ length: count }, (_, index) => index);

/** Resolves the text and holds what comes out to the limits, by count and not by time. */
function resolved(text: string) {
  const file = resolveText(`use "alloys"\n${text}`);
  expect(file.appliances.length).toBeLessThanOrEqual(FILE_LIMITS.appliances);
  for (const { steps, design } of file.appliances) {
    expect(steps.length).toBeLessThanOrEqual(LIMITS.work);
    expect(design?.elements.length ?? 0).toBeLessThanOrEqual(LIMITS.elements);
  }
  const asked = file.appliances.map(
    ({ design }) => (design?.elements.length ?? 0) * (design?.activation?.stages.length ?? 1),
  );
  expect(asked.reduce((sum, one) => sum + one, 0)).toBeLessThanOrEqual(FILE_LIMITS.solving);
  return file;
}

const limitsOf = (text: string) =>
  resolved(text)
    .problems.filter(({ code }) => code === 'limit-exceeded')
    .map(({ message }) => message);

describe('limits', () => {
  it.each([
    ['repetitions', appliance('repeat 100000 { straight 1 mm }'), 'Repetitions: 100000 are asked for, at most 500'],
    ['repetitions of repetitions', appliance('repeat 400 { repeat 400 { let a = 1 mm } }'), 'Steps of the path: 20001'],
    ['pieces of wire', appliance('repeat 500 { repeat 5 { straight 0.01 mm } }'), 'Pieces of wire: 2001'],
    ['turns of a helix', appliance('helix 1000 turns diameter 3 mm toward gingival'), 'Turns of a helix: 1000'],
    [
      'stages',
      appliance('straight 5 mm', 'many', '0 mm .. 3 mm step 0.001 mm'),
      'Activation stages: 3001 are asked for',
    ],
    [
      'parts inside parts',
      `${range(40)
        .map((index) => `part p${index}() { ${index === 0 ? 'straight 1 mm' : `p${index - 1}()`} }`)
        .join('\n')}\n${appliance('p39()')}`,
      'Parts inside parts: 25 are asked for, at most 24',
    ],
    [
      'parts that double',
      `${range(24)
        .map((index) => `part p${index}() { ${index === 0 ? 'mark m' : `p${index - 1}() p${index - 1}()`} }`)
        .join('\n')}\n${appliance('p20()')}`,
      'Steps of the path: 20001',
    ],
    [
      'parts that are heavy by themselves',
      range(300)
        .map((index) => `part p${index}() { repeat 500 { repeat 500 { let a = 1 mm } } }`)
        .join('\n'),
      'Steps of all parts: ',
    ],
    [
      'appliances',
      range(150)
        .map((index) => appliance('straight 5 mm', `a${index}`))
        .join(''),
      'Appliances of a file: 150',
    ],
    [
      'variants',
      appliance('straight 5 mm') +
        range(120)
          .map((index) => `variant v${index} of hostile {}`)
          .join('\n'),
      'Appliances of a file: 121',
    ],
    [
      'solving',
      range(5)
        .map((index) => appliance('repeat 300 { straight 0.1 mm }', `a${index}`, '0 mm .. 1 mm step 0.01 mm'))
        .join(''),
      'Pieces of wire times activation stages of the file: 122008 are asked for, at most 100000',
    ],
    [
      'values that rest on each other',
      range(5000)
        .reverse()
        .map((index) => `let a${index} = ${index === 0 ? '1 mm' : `a${index - 1} + 1 mm`}`)
        .join('\n'),
      'Values that rest on each other: 51 are asked for, at most 50',
    ],
    [
      'parameters that rest on each other',
      `part p(${range(2000)
        .map((index) => `a${index} = ${index === 1999 ? '1 mm' : `a${index + 1} + 1 mm`}`)
        .join(', ')}) { straight a0 }`,
      'Values that rest on each other: 51',
    ],
  ])('bound %s, with a message of their own', (_what, text, message) => {
    expect(parse(text).problems).toEqual([]);
    expect(
      limitsOf(text).some((one) => one.includes(message)),
      limitsOf(text).slice(0, 3).join(' | '),
    ).toBe(true);
  });

  it('leave what lies below them alone', () => {
    const below = `${appliance('repeat 400 { straight 0.01 mm }')}${range(40)
      .map((index) => `let a${index + 1} = a${index} + 1 mm`)
      .join('\n')}\nlet a0 = 1 mm`;
    expect(limitsOf(below)).toEqual([]);
    expect(resolved(below).appliances[0].design).toBeDefined();
  });

  it('find the circle among names that all lead to each other', () => {
    const names = range(60).map((index) => `n${index}`);
    const text = names.map((name) => `let ${name} = ${names.filter((other) => other !== name).join(' + ')}`).join('\n');
    const codes = new Set(resolved(text).problems.map(({ code }) => code));
    expect(codes).toContain('circular-value');
  });

  it('show recursion as a circle, not as a limit', () => {
    const { problems } = resolved(`part a() { b() }\npart b() { a() }\n${appliance('a()')}`);
    expect(problems.map(({ code }) => code)).toContain('part-recursion');
    expect(problems.map(({ code }) => code)).not.toContain('limit-exceeded');
  });
});

describe('hostile files', () => {
  const number = fc.oneof(fc.constantFrom(0, 1, 2, 500, 501, 1e5, 1e9, 1e-9, 1e300), fc.integer({ min: 0, max: 700 }));
  const step = fc.letrec<{ step: string; body: string }>((tie) => ({
    step: fc.oneof(
      { maxDepth: 5, depthIdentifier: 'nest' },
      fc.oneof(
        number.map((size) => `straight ${size} mm`),
        number.map((size) => `bend ${size} deg toward gingival radius ${size} mm`),
        number.map((count) => `helix ${count} turns diameter 3 mm toward gingival`),
        fc.constantFrom('p0()', 'p1()', 'p2()', 'mark m', 'foot', 'let x = p0', 'seat a', 'twist 1e9 deg over 1e-9 mm'),
      ),
      fc.tuple(number, tie('body')).map(([count, body]) => `repeat ${count} { ${body} }`),
    ),
    body: fc.array(tie('step'), { maxLength: 4, depthIdentifier: 'nest' }).map((steps) => steps.join(' ')),
  }));
  const file = fc
    .tuple(fc.array(step.body, { minLength: 3, maxLength: 3 }), step.body, number, number)
    .map(
      ([parts, path, high, size]) =>
        `${parts.map((body, index) => `part p${index}(p0 = ${size} mm) { ${body} }`).join('\n')}\n${appliance(path, 'one', `0 mm .. ${high} mm step ${size} mm`)}variant two of one { q = ${size} mm }`,
    );

  it('of nested repetitions, parts and absurd numbers stay below the counts, whatever their numbers', () => {
    fc.assert(
      fc.property(file, (text) => {
        resolved(text);
      }),
      { numRuns: 150, seed: 11 },
    );
  });
});
