import { describe, it } from 'vitest';
import { checkProblems } from './fixture';

const LOOP = (loop: string, gable = '0 deg') => `use "alloys"
use "loops"
appliance closing {
  wire 0.017 in x 0.025 in of beta_titanium stress relieved
  path running mesial {
    straight 8 mm
    seat molar
    straight 6 mm
    preactivate ${gable} toward gingival
    ${loop}
    preactivate ${gable} toward gingival
    straight 6 mm
    seat canine
    straight 6 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 1 mm step 0.5 mm
}
`;

const KINKED = (rest: string) => `use "alloys"
appliance kinked {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 4 mm
    seat molar
    straight 6 mm
    preactivate 4 deg toward gingival
    straight 6 mm
    seat canine
    straight 4 mm
  }
  ${rest}
}
`;

describe('what the analysis shows', () => {
  it('tells that a wire which nothing lets slide is stretched between its slots', () => {
    checkProblems(
      KINKED(`tube molar length 4 mm
  //   ^^^^^ information held-lengthwise: cannot slide through molar and canine
  bracket canine width 3 mm`),
      { mechanics: true },
    );
  });

  it('says nothing of it where the wire is drawn through, or ends at a point', () => {
    checkProblems(
      KINKED(`tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 0.0005 mm step 0.0005 mm`),
      { mechanics: true },
    );
    checkProblems(
      KINKED(`tube molar length 4 mm
  hook canine`),
      { mechanics: true },
    );
  });

  it('tells that the legs of a strongly gabled open loop cross at neutral', () => {
    checkProblems(
      LOOP(
        `open_loop(height = 8 mm, width = 2 mm)
  //^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ information legs-cross: crossed: they touch in a real wire`,
        '30 deg',
      ),
      { mechanics: true },
    );
  });

  it('tells of arms that pass each other in a closed loop, and of nothing in an open one', () => {
    checkProblems(
      LOOP(`closed_loop(height = 8 mm, width = 2 mm, base_radius = 0.9 mm)
  //^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ information arms-in-one-line: pass each other over 2 mm`),
      { mechanics: true },
    );
    checkProblems(LOOP('open_loop(height = 8 mm, width = 2 mm)'), { mechanics: true });
  });

  it('warns of a wire that touches itself', () => {
    checkProblems(
      LOOP(`t_loop(height = 8 mm, width = 10 mm, gap = 0.3 mm)
  //^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning wire-touches-itself: In the nominal shape`),
      { mechanics: true },
    );
  });
});
