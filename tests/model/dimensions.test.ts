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

  it('offers the unit that is nearest to what was written', () => {
    const fixed = (text: string, title: string) => applyFix(text, title).trim();
    expect(fixed('let pull = 1 N\nlet sum = pull + 2 N mm', 'Write 2 N')).toContain('pull + 2 N');
    expect(fixed('let turn = 8 gf mm\nlet more = turn > 40 gf', 'Write 40 gf mm')).toContain('turn > 40 gf mm');
    expect(fixed('let rate = 1 N/mm\nlet more = 3 N - rate', 'Write 3 N/mm')).toContain('3 N/mm - rate');
    expect(fixed('let a = 20 deg\nlet more = a + 3 mm', 'Write 3 deg')).toContain('a + 3 deg');
    expect(fixed('let slope = 30\nlet height = sin(slope)', 'Write slope * 1 deg')).toContain('sin(slope * 1 deg)');
    expect(fixed('let slope = 30\nlet h = sin(slope / 2)', 'Write (slope / 2) * 1 deg')).toContain(
      'sin((slope / 2) * 1 deg)',
    );
    expect(fixed('let share = 30 %\nlet a = asin(30 deg)', 'Write 30')).toContain('asin(30)');
  });

  it('keeps moment, energy, stiffness and time apart, and percent with numbers', () => {
    checkProblems(`let moment = 5 N mm
let turn = 10 deg
let work = moment * turn
let a = work + moment
//      ^^^^^^^^^^^^^ error unit-mismatch: "work" is an energy (moment × angle) and "moment" is a moment; they cannot be added.
let b = moment / turn - moment
//      ^^^^^^^^^^^^^^^^^^^^^^ error unit-mismatch: is a bending stiffness (moment per angle)
let c = 6 weeks + 1 mm / 1 months
//      ^^^^^^^^^^^^^^^^^^^^^^^^^ error unit-mismatch: "6 weeks" is a time and "1 mm / 1 months" is a speed
let rate = 1 mm / 1 months
let moved = rate * 6 weeks + 1 mm
let share = 80 % + 0.1
let d = share + 1 deg
//      ^^^^^^^^^^^^^ error unit-mismatch: "share" is a plain number and "1 deg" is an angle
let e = work / turn - moment
let f = 600 MPa * 1 mm ^ 2 + 5 N
let g = 600 MPa + 5 N
//      ^^^^^^^^^^^^^ error unit-mismatch: "600 MPa" is a stress and "5 N" is a force
`);
  });

  it('takes the kind of several values from the first that says one', () => {
    checkProblems(`let height = 7 mm
let a = max(0, height)
let b = min(3, height)
//          ^ error unit-missing: 3 has no unit; a length is expected, such as 3 mm.
let c = max(height, 20 deg)
//                  ^^^^^^ error unit-mismatch: What max takes is a length, but "20 deg" is an angle.
let d = abs(0 mm - height) + max(1 mm, height, 2 cm)
let e = sqrt(height)
let f = sqrt(4 mm * 9 mm) - height
let g = cos(60 deg) * height + tan(acos(0.5)) * 1 mm
let h = abs(1 mm < 2 mm)
//          ^^^^^^^^^^^ error quantity-expected
`);
  });

  it('holds both ends of a range to one kind and the right way round', () => {
    const text = (condition: string) => `use "alloys"
appliance v {
  wire round 0.016 in of steel
  path running mesial { straight 2 mm seat a straight 5 mm seat b straight 2 mm }
  tube a
  hook b moved 0.3 mm gingival
  require when engaged {
    ${condition}
  }
}
`;
    checkProblems(
      text(`b.force.gingival in 1 gf .. 30 deg
//  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error unit-mismatch: "b.force.gingival" is a force and "30 deg" is an angle`),
    );
    checkProblems(
      text(`b.force.gingival in 1 gf .. 30 N mm
//  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error unit-mismatch: "30 N mm" is a moment`),
    );
    checkProblems(
      text(`b.force.gingival in 100 gf .. 10 gf
//                      ^^^^^^^^^^^^^^^ error range-reversed`),
    );
    checkProblems(
      text(`b.force.gingival in 1 .. 300 gf
//                      ^ error unit-missing: 1 has no unit; a force is expected, such as 1 gf`),
    );
    expect(applyFix(text('b.force.gingival in 1 gf .. 30 N mm'), 'Write 30 N')).toContain('.. 30 N\n');
  });
});
