import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';

/** The problems of a text, each as the marked piece and the message. */
function problemsOf(text: string): string[] {
  return parse(text).problems.map(({ span, message }) => `[${text.slice(span.start, span.end)}] ${message}`);
}

const inPath = (line: string) => `appliance a {\n  path running mesial {\n    ${line}\n    foot\n  }\n}\n`;
const inAppliance = (line: string) => `appliance a {\n  ${line}\n  param z = 3\n}\n`;

describe('a step', () => {
  it.each([
    ['bend 90 deg', '[deg] Expected `toward` and a direction, such as `toward gingival`, after `deg`.'],
    ['bend toward gingival', '[toward] Expected an angle, such as `20 deg`, not `toward`.'],
    [
      'bend 90 deg toward',
      '[toward] Expected a direction: `mesial`, `distal`, `gingival`, `occlusal`, `buccal` or `lingual` (in a whole arch `anterior`, `posterior`, `left`, `right`), after `toward`.',
    ],
    [
      'bend 90 deg gingival',
      '[gingival] Expected `toward` and a direction, such as `toward gingival`, not `gingival`.',
    ],
    ['straight', '[straight] Expected a length, such as `8 mm`, after `straight`.'],
    ['straight a +', '[+] Expected a value, such as `7 mm`, after `+`.'],
    ['straight (a + 2', '[2] Expected `)` after `2`.'],
    ['straight 8,5 mm', '[,] Decimals are written with a point: `8.5`.'],
    ['straight 8 mm;', '[;] `;` has no meaning in this language. Lines need no semicolon; remove it.'],
    ['bend 90° toward gingival', '[°] `°` has no meaning in this language. Write `deg` for degrees.'],
    [
      'strait 8 mm',
      '[strait] `strait` is no step of a path. Steps begin with `straight`, `bend`, `preactivate`, `twist`, `helix`, `seat`, `mark`, `foot`, `follow`, `section`, `let` or `repeat`; a part is called with parentheses: `strait()`.',
    ],
    ['closed_loop(8 mm)', '[8] Expected `)` or an argument with its name, such as `height = 8 mm`, not `8`.'],
    ['closed_loop(a = 8 mm b = 2 mm)', '[b] Expected `,` before the next argument, not `b`.'],
    ['mirror flip loop()', '[flip] Write `flip` before `mirror`.'],
    ['seat bend', '[bend] `bend` is a word of the language and cannot be a name. Choose another, such as `bend_1`.'],
    ['repeat 3', '[3] Expected `{` to open `repeat` after `3`.'],
    ['5 mm', '[5] Expected a step, such as `straight 8 mm`, or a part, such as `closed_loop()`, not `5`.'],
  ])('%s', (line, problem) => expect(problemsOf(inPath(line))).toEqual([problem]));

  it('may name a direction that is none: what it means is not for the syntax', () => {
    expect(problemsOf(inPath('bend 20 deg toward upwards'))).toEqual([]);
  });
});

describe('a line of an appliance', () => {
  it.each([
    [
      'wire',
      '[wire] Expected the size of the wire, such as `0.017 in x 0.025 in`, `round 0.016 in` or the name of a section, after `wire`.',
    ],
    ['wire 0.017 in x 0.025 in', '[in] Expected `of` and an alloy, such as `of beta_titanium`, after `in`.'],
    ['wire 0.017 in of steel', '[of] Expected `x` and the width, such as `0.017 in x 0.025 in`, not `of`.'],
    [
      'param a = 3 mm in 2 mm',
      '[mm] Expected `..` and the upper end of the range, such as `0 mm .. 3 mm`, after `mm`.',
    ],
    ['path { }', '[{] Expected `running mesial` or `running distal`, not `{`.'],
    [
      'tube molar slot',
      '[slot] Expected the size of the slot, such as `0.022 in x 0.028 in`, or the name of a slot, after `slot`.',
    ],
    [
      'tube molar at 3 mm',
      '[mm] Expected a direction: `mesial`, `distal`, `gingival`, `occlusal`, `buccal` or `lingual` (in a whole arch `anterior`, `posterior`, `left`, `right`), after `mm`.',
    ],
    [
      'tube molar,',
      '[,] Expected a clause: `on tooth`, `facing`, `slot`, `length`, `width`, `at`, `moved`, `tip`, `rotation`, `torque`, `tied`, `sliding`, `cinched`, `with play` or `friction`, after `,`.',
    ],
    [
      'activation pull molar 0 mm .. 3 mm',
      '[molar] Expected `through` and the name of a tube or bracket, not `molar`.',
    ],
    ['require at 1.5 mm { a > 1 }', '[1.5] Expected `activation` and an amount, or `neutral`, not `1.5`.'],
    [
      'require along activation { canine. }',
      '[}] Expected a name after the dot, such as `canine.force.distal`, not `}`.',
    ],
    ['require along activation { a = 1 }', '[=] To compare, write `==`, `<=`, `>=`, `<`, `>` or `in low .. high`.'],
    [
      'require along activation { a > 1, b > 2 }',
      '[,] Conditions need no commas. Remove it, or put each on a line of its own.',
    ],
    [
      'straight 8 mm',
      '[straight] `straight` stands inside a path or a part: `path running mesial { … }`. Check the braces above.',
    ],
  ])('%s', (line, problem) => {
    const text = inAppliance(line);
    expect(problemsOf(text)).toEqual([problem]);
    const [item] = parse(text).tree.items;
    expect(item.kind === 'appliance' && item.members.at(-1)).toMatchObject({ kind: 'parameter', value: { number: 3 } });
  });
});

describe('an item', () => {
  it.each([
    [
      'use alloys',
      '[alloys] Expected what to use, in quotes: `use "alloys"` or `use "./parts/loops.spring"`, not `alloys`.',
    ],
    ['use "alloys', '["alloys] This text has no closing quote. Add `"` where it ends; a text stays on one line.'],
    ['appliance a {', '[{] The `{` of `appliance` is not closed. Add `}` after its last line.'],
    ['part a { foot }', '[{] Expected `(` and the parameters, or `()`, not `{`.'],
    ['alloy a { modulus 66 GPa }', '[66] Expected `=` and a value, such as `modulus = 66 GPa`, not `66`.'],
    ['tube molar', '[tube] `tube` stands inside an appliance: `appliance name { … }`. Check the braces above.'],
    [
      'loop { foot }',
      '[loop] `loop` is no word that can stand here. Expected `use`, `let`, `alloy`, `section`, `slot`, `part`, `appliance` or `variant`.',
    ],
    ['let a = 3 }', '[}] This `}` closes nothing. Remove it, or add the `{` it belongs to.'],
    ['let a = 😀😀 3', '[😀😀] `😀😀` has no meaning in this language. Remove it.'],
  ])('%s', (text, problem) => expect(problemsOf(text)).toEqual([problem]));
});

describe('a missing brace', () => {
  it('of a path is reported at its opening, and the appliance goes on', () => {
    const text = 'appliance a {\n  path running mesial {\n    straight 8 mm\n\n  tube molar\n}\nlet b = 1\n';
    expect(problemsOf(text)).toEqual(['[{] The `{` of `path` is not closed. Add `}` after its last line.']);
    expect(parse(text).tree.items).toMatchObject([
      { kind: 'appliance', members: [{ kind: 'path', body: [{ kind: 'straight' }] }, { kind: 'attachment' }] },
      { kind: 'let' },
    ]);
  });

  it('of an appliance is reported at its opening, and the file goes on', () => {
    const text = 'appliance a {\n  wire w of steel\n\npart b() {\n  foot\n}\n';
    expect(problemsOf(text)).toEqual(['[{] The `{` of `appliance` is not closed. Add `}` after its last line.']);
    expect(parse(text).tree.items).toMatchObject([{ kind: 'appliance' }, { kind: 'part', body: [{ kind: 'foot' }] }]);
  });
});
