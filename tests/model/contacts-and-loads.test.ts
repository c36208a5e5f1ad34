import { describe, expect, it } from 'vitest';
import { applyFix, checkProblems } from './fixture';
import { resolveAppliance } from './resolve-text';

const GRAM_FORCE = 0.00980665;

function appliance(lines: string): string {
  return `use "alloys"
use "slots"
appliance test {
  wire 0.017 in x 0.025 in of beta_titanium
  path running mesial {
    straight 5 mm
    seat molar
    straight 6 mm
    mark middle
    straight 2 mm
    seat premolar
    straight 8 mm
    seat canine
    straight 5 mm
    mark end
  }
  ${lines}
}
`;
}

const fitted = `tube molar slot slot022, length 4 mm
  bracket premolar slot slot022, width 3 mm
  bracket canine slot slot022, width 3 mm
`;

function designOf(lines: string) {
  const { design } = resolveAppliance(appliance(lines));
  if (!design) throw new Error('no design');
  return design;
}

describe('contacts', () => {
  it('hold the wire without play or friction unless they say otherwise', () => {
    for (const { lengthwise, play, friction, tied } of designOf(fitted).attachments) {
      expect({ lengthwise, play, friction, tied }).toEqual({
        lengthwise: 'held',
        play: false,
        friction: 0,
        tied: false,
      });
    }
  });

  it('let it slide, cinch it, give it play and friction', () => {
    const { attachments } = designOf(`tube molar slot slot022, length 4 mm, cinched, friction 0.1
  bracket premolar slot slot022, width 3 mm, sliding, with play
  hook canine tied`);
    expect(
      attachments.map(({ name, lengthwise, play, friction, tied }) => ({ name, lengthwise, play, friction, tied })),
    ).toEqual([
      { name: 'molar', lengthwise: 'cinched', play: false, friction: 0.1, tied: false },
      { name: 'premolar', lengthwise: 'sliding', play: true, friction: 0, tied: false },
      { name: 'canine', lengthwise: 'held', play: false, friction: 0, tied: true },
    ]);
  });

  it('contradict themselves', () => {
    checkProblems(
      appliance(`tube molar slot slot022, length 4 mm, sliding, cinched
  //                                             ^^^^^^^ error contradicting-clauses: "sliding" and "cinched" contradict each other
  bracket premolar slot slot022, width 3 mm, cinched
  //                                         ^^^^^^^ error cinched-inside: behind molar or canine; premolar stands between them
  hook canine tied sliding
  //               ^^^^^^^ error contradicting-clauses: the wire is held or slides at canine, not both`),
    );
  });

  it('have play in a slot of some length only', () => {
    checkProblems(
      appliance(`tube molar slot slot022, with play
  //                       ^^^^^^^^^ error play-without-slot: but molar has no length
  bracket premolar width 3 mm, with play
  //                           ^^^^^^^^^ error play-without-slot: but premolar has no slot
  hook canine with play
  //          ^^^^^^^^^ error play-without-slot: but canine is a hook, which holds a point`),
    );
  });

  it('have friction where the wire slides, below 2', () => {
    checkProblems(
      appliance(`tube molar slot slot022, length 4 mm, cinched, friction 2
  //                                                      ^ error unusable-friction: is 2; it must be from 0 to below 2
  bracket premolar slot slot022, width 3 mm, friction 0.15
  //                                         ^^^^^^^^^^^^^ error unusable-friction: but here it is held
  bracket canine slot slot022, width 3 mm, sliding, friction 0.2 mm
  //                                                         ^^^^^^ error unit-mismatch`),
    );
  });

  it('hold the wire lengthwise somewhere', () => {
    checkProblems(
      appliance(`tube molar slot slot022, length 4 mm, sliding
  bracket premolar slot slot022, width 3 mm, sliding
  bracket canine slot slot022, width 3 mm, sliding`).replace(
        'appliance test {',
        `appliance test {
  //      ^^^^ error not-held: The wire slides through every attachment, so that none holds it lengthwise`,
      ),
      { mechanics: true },
    );
  });
});

describe('an activation', () => {
  it('moves what only supports the wire on its way, and neutral is the middle of its play', () => {
    // Slot of 0.022 in, wire of 0.017 in: 0.0635 mm of play either way. Beyond, the slot's edges raise the wire by the rest, 0.0365 mm,
    // at 4.5 mm and 7.5 mm from the tube; the bracket that it slides through holds it down at 12.5 mm and 15.5 mm. Four loads on a
    // cantilever, whose deflection at q of a load at p ≥ q is q² (3p - q) / 6EI (handbook 3.5): together 1.180 N for 66 GPa. Shear
    // takes 12 EI / (G A l²) of it, 2.8 % for the 4.5 mm, at most.
    checkProblems(
      appliance(`tube molar slot slot022, length 4 mm
  bracket premolar slot slot022, width 3 mm, with play, sliding
  bracket canine slot slot022, width 3 mm, sliding
  activation move premolar gingival 0 mm .. 0.1 mm step 0.01 mm
  require at activation 0.06 mm { abs(premolar.force.occlusal) < 0.01 gf }
  require at activation 0.1 mm { premolar.force.occlusal in 1.147 N .. 1.181 N }`),
      { mechanics: true },
    );
  });
});

describe('a pull through an attachment between two others', () => {
  const between = (pull: string) =>
    appliance(`${fitted}
  activation pull through ${pull} 0 mm .. 0.01 mm step 0.005 mm`);

  it('goes to one side of it', () => {
    const { activation } = designOf(`${fitted}
  activation pull through premolar toward distal 0 mm .. 1 mm step 0.5 mm`);
    expect(activation?.motion).toEqual({ kind: 'pull', attachment: 1, along: -1 });
  });

  it('takes the wire out of one span and puts it into the other', () => {
    // E A / L of straight wire on each side: 66 GPa, 0.017 in by 0.025 in, 4.5 mm and 5 mm between the slots' edges (handbook 3.5):
    // 7640 N/mm together. 0.0004 mm give 3.056 N; stretch, of second order, is 1e-4 of it.
    checkProblems(
      appliance(`${fitted}
  activation pull through premolar toward distal 0 mm .. 0.0004 mm step 0.0004 mm
  require at activation 0.0004 mm {
    premolar.force.mesial in 3.055 N .. 3.057 N and premolar.slid < 0 mm
  }`),
      { mechanics: true },
    );
  });

  it('has to say to which', () => {
    const text = between('premolar');
    checkProblems(
      text.replace(
        '0 mm .. 0.01 mm step 0.005 mm',
        `0 mm .. 0.01 mm step 0.005 mm
  //                      ^^^^^^^^ error pull-side: premolar stands between two others`,
      ),
    );
    expect(applyFix(text, 'Pull toward distal')).toBe(between('premolar toward distal'));
  });

  it('goes along the wire, and out at the ends', () => {
    const problem = (pull: string, place: string) =>
      checkProblems(between(pull).replace('step 0.005 mm', `step 0.005 mm\n  //${place}`));
    problem(
      'premolar toward gingival',
      '                                      ^^^^^^^^ error pull-side: runs across gingival at premolar',
    );
    problem('molar toward mesial', '                                   ^^^^^^ error pull-side: pushed in at molar');
    checkProblems(between('molar toward distal'));
    expect(
      designOf(`${fitted}
  activation pull through molar toward distal 0 mm .. 1 mm step 0.5 mm`).activation?.motion,
    ).toEqual({
      kind: 'pull',
      attachment: 0,
    });
  });

  it('is not through a hook', () => {
    checkProblems(
      appliance(`tube molar slot slot022, length 4 mm
  hook premolar
  bracket canine slot slot022, width 3 mm
  activation pull through premolar toward distal 0 mm .. 1 mm step 0.5 mm
//^^^^^^^^^^ error not-held: hook or an eyelet, which holds a point`),
      { mechanics: true },
    );
  });

  it('draws no bend into its slot', () => {
    checkProblems(
      appliance(`${fitted}
  activation pull through premolar toward distal 0 mm .. 4 mm step 2 mm`).replace(
        'straight 8 mm\n    seat canine',
        `straight 3 mm
    preactivate 5 deg toward gingival
//  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error bend-in-slot: at 2 mm
    straight 5 mm
    seat canine`,
      ),
      { mechanics: true },
    );
  });
});

describe('loads', () => {
  it('pull between attachments and marks, constantly or with a rate', () => {
    const { loads } = designOf(`${fitted}
  elastic closing from canine to molar force 150 gf
  coil from middle to canine rate 0.4 N/mm rest 8 mm
  ligature from premolar to end force 0.5 N`);
    expect(loads).toEqual([
      {
        name: 'closing',
        kind: 'elastic',
        from: { on: 'attachment', attachment: 2 },
        to: { on: 'attachment', attachment: 0 },
        law: { kind: 'constant', force: expect.closeTo(150 * GRAM_FORCE, 12) },
      },
      {
        kind: 'coil',
        from: { on: 'wire', station: 11 },
        to: { on: 'attachment', attachment: 2 },
        law: { kind: 'rate', rate: expect.closeTo(0.4, 12), rest: 8 },
      },
      {
        kind: 'ligature',
        from: { on: 'attachment', attachment: 1 },
        to: { on: 'wire', station: 26 },
        law: { kind: 'constant', force: 0.5 },
      },
    ]);
  });

  it('are none in a file without', () => expect(designOf(fitted).loads).toEqual([]));

  it('need two places that there are', () => {
    checkProblems(
      appliance(`${fitted}
  elastic from canin to molar force 150 gf
  //           ^^^^^ error unknown-name: There is no attachment or mark called "canin" here. Did you mean "canine"?
  elastic from canine to canine force 150 gf
  //                     ^^^^^^ error load-ends: Both ends of the elastic take hold at canine
  let somewhere = 3 mm
  coil from somewhere to midle rate 1 N/mm rest 3 mm
  //        ^^^^^^^^^ error wrong-kind-of-name
  //                     ^^^^^ error unknown-name: Did you mean "middle"?`),
    );
  });

  it('are the same place where a mark stands in the middle of a slot', () => {
    checkProblems(
      appliance(`${fitted}
  elastic from canine to cusp force 150 gf
  //                     ^^^^ error load-ends: canine and cusp are the same place of the wire`).replace(
        'seat canine',
        'seat canine\n    mark cusp',
      ),
    );
  });

  it('pull with more than nothing', () => {
    checkProblems(
      appliance(`${fitted}
  elastic from canine to molar force 0 gf
  //                                 ^^^^ error load-size: The force of the elastic is 0 gf; it must be more than 0
  coil from canine to molar rate -1 N/mm rest 3 mm
  //                             ^^^^^^^ error load-size: must be more than 0
  coil from canine to premolar rate 1 N/mm rest 0 mm
  coil from premolar to molar rate 1 N/mm rest -2 mm
  //                                           ^^^^^ error load-size: The length at rest of the coil spring is -2 mm; it cannot be negative
  ligature from premolar to end force 3 mm
  //                                  ^^^^ error unit-mismatch`),
    );
  });

  it('have a name of their own, and results by it', () => {
    checkProblems(
      appliance(`${fitted}
  elastic molar from canine to premolar force 1 N
  //      ^^^^^ error duplicate-name
  elastic closing from canine to molar force 1 N
  require when engaged {
    closing.force <= 2 N and closing.length < 40 mm
    closing.strength <= 2 N
    //      ^^^^^^^^ error unknown-name: There is no result of closing called "strength" here
    canine.slid < 1 mm and canine.play.tip < 3 deg
  }`),
    );
  });
});
