import { describe, expect, it } from 'vitest';
import { applyFix, checkProblems } from './fixture';

describe('names', () => {
  it('offers the nearest known name', () => {
    const text = `use "alloys"
appliance arch {
  wire round 0.016 in of stel
  //                     ^^^^ error unknown-name: Did you mean "steel"?
  let reach = 20 mm
  path running mesial { straight reech }
  //                             ^^^^^ error unknown-name: Did you mean "reach"?
}
`;
    checkProblems(text);
    expect(applyFix(text, 'Write steel')).toContain('of steel\n');
  });

  it('knows what a name stands for', () => {
    checkProblems(`use "alloys"
use "loops"
let size = 7 mm
let other = open_loop
//          ^^^^^^^^^ error wrong-kind-of-name: is a part; a value is expected
appliance arch {
  wire round 0.016 in of size
  //                     ^^^^ error wrong-kind-of-name: is a named value; an alloy is expected
  path running mesial { straight 7 mm steel() }
  //                                  ^^^^^ error wrong-kind-of-name: is an alloy; a part is expected
}
`);
  });

  it('keeps names unique and the order of values free', () => {
    checkProblems(`let a = b + 1 mm
let b = 2 mm
let a = 3 mm
//  ^ error duplicate-name: "a" is already defined
let c = d
//  ^ error circular-value: c → d → c
let d = c
part twice(height = 1 mm, height = 2 mm) { straight height }
//                        ^^^^^^ error duplicate-name
`);
  });

  it('reports modules that are missing, clash or go in a circle', () => {
    checkProblems(
      `use "aloys"
//  ^^^^^^^ error module-not-found: Bundled are alloys
use "./gone.spring"
//  ^^^^^^^^^^^^^^^ error module-not-found: no file "./gone.spring"
use "./parts.spring"
//  ^^^^^^^^^^^^^^^^ error name-clash: brings in "offset"
use "./test.spring"
//  ^^^^^^^^^^^^^^^ error module-cycle: test.spring → test.spring
part offset() { straight 1 mm }
`,
      { files: { 'parts.spring': 'part offset() { straight 2 mm }\n', 'test.spring': '' } },
    );
  });
});

describe('parts', () => {
  it('checks arguments against parameters', () => {
    checkProblems(`use "alloys"
part step(rise = 1 mm in 0.5 mm .. 3 mm, idle = 1 mm) {
//                                       ^^^^ warning unused-parameter
  straight rise
}
appliance arch {
  wire round 0.016 in of steel
  path running mesial {
    step(rise = 4 mm)
    //   ^^^^^^^^^^^ error value-out-of-range: rise is 4 mm, outside its range of 0.5 mm to 3 mm
    step(raise = 1 mm)
    //   ^^^^^ error unknown-argument: It takes rise
    step(rise = 20 deg)
    //          ^^^^^^ error unit-mismatch: The parameter "rise" is a length
    step(rise = 1 mm, rise = 2 mm)
    //                ^^^^ error duplicate-argument
  }
}
`);
  });

  it('shows the circle of parts that are made of themselves', () => {
    checkProblems(`part coil() { straight 1 mm coil() }
//                          ^^^^^^ error part-recursion: coil → coil
part left() { right() }
//            ^^^^^^^ error part-recursion: left → right → left
part right() { left() }
//             ^^^^^^ error part-recursion: right → left → right
`);
  });

  it('brings what comes up with the values of a call to the call', () => {
    checkProblems(`use "alloys"
part arm(length = 5 mm) { straight length - 2 mm }
appliance arch {
  wire round 0.016 in of steel
  path running mesial {
    straight 10 mm
    arm(length = 1 mm)
  //^^^^^^^^^^^^^^^^^^ error length-not-positive: In arm: The length of a straight is -1 mm
  }
}
`);
  });

  it('wants two feet, inside a part', () => {
    checkProblems(`use "alloys"
part hump() { foot straight 1 mm }
//   ^^^^ warning feet-count: has 1 foot
//   ^^^^ information unused-part
appliance arch {
  wire round 0.016 in of steel
  path running mesial { straight 10 mm foot }
  //                                   ^^^^ warning foot-outside-part
}
`);
  });
});
