import { describe, expect, it } from 'vitest';
import { applyFix, checkProblems, problemsOf } from './fixture';
import { resolveText } from './resolve-text';

describe('units and dimensions', () => {
  it('names both sides of a mismatch', () => {
    checkProblems(`let height = 7 mm
let sum = height + 15 deg
//        ^^^^^^^^^^^^^^^ error unit-mismatch: "height" is a length and "15 deg" is an angle; they cannot be added.
let force = 100 gf
let moment = force * height
let energy = moment * 1 rad
let three = max(moment, energy)
//                      ^^^^^^ error unit-mismatch: What max takes is a moment, but "energy" is an energy
let arch = 2 mm * 90 deg + 1 mm
//         ^^^^^^^^^^^^^^^^^^^^ error unit-mismatch: is a length × angle and "1 mm" is a length
let drawn = arc(2 mm, 90 deg) + 1 mm
let side = sqrt(height * height + 4 mm * 1 mm)
let slope = atan(height / side)
let stiffness = force / height
let same = stiffness - 2 N/mm
`);
  });

  it('asks for missing units and knows unit words', () => {
    const text = `let height = 7 mm
let a = height + 2
//               ^ error unit-missing: 2 has no unit; a length is expected, such as 2 mm.
let b = 150 g
//          ^ error unknown-unit: "g" is not a unit
let c = height + 0
let d = 3 furlong
//        ^^^^^^^ error unknown-unit
let e = sin(30)
//          ^^ error unit-missing: an angle is expected
let f = 1 N / 0 mm
//      ^^^^^^^^^^ error not-computable: is zero
let g = sqrt(0 - 4)
//      ^^^^^^^^^^^ error not-computable
let h = min()
//      ^^^^^ error argument-count: at least one value
let i = sine(30 deg)
//      ^^^^ error unknown-name: function
let j = 2 mm < 3 mm
//      ^^^^^^^^^^^ error quantity-expected
`;
    checkProblems(text);
    expect(applyFix(text, 'Write 2 mm')).toContain('height + 2 mm\n');
    expect(applyFix(text, 'Write gf')).toContain('150 gf\n');
  });

  it('mends a bend that is given as a length', () => {
    const text = `use "alloys"
appliance arch {
  wire round 0.016 in of steel
  path running mesial {
    straight 5 mm
    bend 30 mm toward gingival
    //   ^^^^^ error unit-mismatch: The angle of a bend is an angle, but "30 mm" is a length.
    straight 90
    //       ^^ error unit-missing: a length is expected, such as 90 mm
  }
}
`;
    checkProblems(text);
    expect(applyFix(text, 'Write 30 deg')).toContain('bend 30 deg toward');
  });

  it('evaluates with exact unit factors (handbook C58)', () => {
    const file = resolveText(
      'let force = 350 gf\nlet height = 0.017 in\nlet moment = 1500 gf mm\nlet part = 80 % * 2 mm\n',
    );
    const value = (name: string) => file.exports.get(name)?.value?.value;
    expect(value('force')).toBeCloseTo(3.4323275, 6);
    expect(value('height')).toBeCloseTo(0.4318, 9);
    expect(value('moment')).toBeCloseTo(14.709975, 6);
    expect(value('part')).toBeCloseTo(1.6, 12);
  });

  it('checks alloys, sections and slots where they are written', () => {
    checkProblems(`alloy mine {
//    ^^^^ error alloy-property-missing: has no yield
  inner_radius = 1
  modulus = 70 mm source found "a paper"
  //        ^^^^^ error unit-mismatch: The modulus of an alloy is a stress
  poisson = 0.5 in 0.2 .. 0.4 source guess "nobody"
  //        ^^^ error value-out-of-range: poisson is 0.5, outside its range of 0.2 to 0.4
  //                                 ^^^^^ error source-state-unknown
}
section thin = -1 mm x 2 mm
//             ^^^^^ error length-not-positive
slot deep = 1 mm x 0 mm
//                 ^^^^ error length-not-positive
let a = (5 mm in 2 mm .. 6 mm)
//      ^^^^^^^^^^^^^^^^^^^^^^ error quantity-expected
`);
    expect(problemsOf('alloy a { modulos = 3 GPa }').map(({ code }) => code)).toContain('unknown-name');
  });
});
