/** What a wire that snaps, or that would not stay, comes to in the file. */
import { test } from 'vitest';
import { checkProblems } from './fixture';

const shallowArch = (activation: string) => `
use "alloys"
appliance arch {
  wire 0.2 mm x 0.8 mm of steel
  path running mesial {
    straight 5 mm
    seat molar
    straight 1 mm
    bend 5 deg toward gingival radius 0 mm
    bend 10 deg toward occlusal radius 114.6 mm
    seat canine
    straight 6 mm
  }
  tube molar length 2 mm
  hook canine moved 0.3 mm distal tied
  ${activation}
`;

test('a shallow arch that is carried across until it snaps says so at its activation', () => {
  checkProblems(
    `${shallowArch(`activation move canine gingival 0 mm .. 6.5 mm step 0.5 mm
//^^^^^^^^^^ error wire-snaps: would snap to another shape at 6.5 mm of activation`)}}
`,
    { mechanics: true },
  );
});

test('what the snapped wire would do is in no requirement', () => {
  checkProblems(
    `${shallowArch(`activation move canine gingival 0 mm .. 6 mm step 1 mm
//^^^^^^^^^^ error wire-snaps: would snap to another shape at 6.5 mm of activation`)}
  require at activation 6.5 mm {
    canine.force.occlusal >= 0 N
//  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error requirement-not-evaluable: the wire snaps to another shape
  }
}
`,
    { mechanics: true },
  );
});

test('a strip pressed together between two brackets would not stay at neutral', () => {
  checkProblems(
    `
use "alloys"
appliance pressed {
  wire 0.2 mm x 0.8 mm of steel stress relieved
  path running mesial {
    straight 5 mm
    seat molar
    straight 1 mm
    bend 4 deg toward gingival radius 0 mm
    bend 8 deg toward occlusal radius 143.2 mm
    bend 4 deg toward gingival radius 0 mm
    straight 1 mm
    seat canine
    straight 5 mm
  }
  bracket molar width 2 mm
  bracket canine width 2 mm moved 0.3 mm distal
  activation move canine gingival 0 mm .. 1 mm step 0.5 mm
//^^^^^^^^^^ error unstable-state: in balance at neutral, but would not stay so
}
`,
    { mechanics: true },
  );
});
