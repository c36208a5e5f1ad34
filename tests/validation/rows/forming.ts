/** What a plier leaves of a bend, and what a slot leaves of a bend or torque: handbook 2.3, 2.4, 3.4, 3.6. */
import { slotPlay } from '#core/material/slot-play';
import { curvatureLeft, plasticMomentRatio, yieldRatio } from '#core/material/springback';
import { formedBends } from '#model/formed-bends';
import { appliance, type Check, mm, type Row } from '../row';
import { applianceOf, designOf } from '../run-spring';

function check(quantity: string, unit: string, expected: number, obtained: number, tolerance: number): Check {
  return { quantity, unit, expected, obtained, tolerance };
}

/** Held to a hundredth of a degree, as the source is printed. */
function degreeCheck(quantity: string, expected: number, obtained: number): Check {
  return { ...check(quantity, 'deg', expected, obtained, 0.01), scale: 1 };
}

const degrees = 180 / Math.PI;

/** Steel of the handbook's springback rows: E 180 GPa, Y 1500 MPa. */
function bent(wire: string, radius: number) {
  return applianceOf(
    appliance({
      wire,
      modulus: '180 GPa',
      path: `seat molar straight 5 mm bend 90 deg toward gingival radius ${mm(radius)} straight 5 mm seat canine`,
      members: 'bracket molar bracket canine',
    }),
  );
}

/** Moment over first yield and curvature left, at the radius under load at which eta is 0.5. */
function plasticBending(wire: string) {
  const { section, alloy } = bent(wire, 1).design!;
  const eta = yieldRatio(alloy, 0.4064, (0.5 * alloy.modulus * 0.4064) / (2 * alloy.yield));
  return { moment: plasticMomentRatio(section.kind, eta), left: curvatureLeft(section.kind, eta) };
}

/** Ri/Rf and the overbend of 90° where the bend that is left is that of a beak that bends to a radius of 1 mm. */
function overbendOf(wire: string, ratio: number) {
  const [{ left, load }] = formedBends(bent(wire, 1 / ratio));
  return { ratio: load.radius / left.radius, angle: load.angle * degrees, radius: load.radius };
}

interface Slotted {
  readonly wire: string;
  readonly slot: string;
  readonly width?: string;
}

function playOf({ wire, slot, width = '3 mm' }: Slotted) {
  const design = designOf(
    appliance({
      wire,
      modulus: '180 GPa',
      path: 'straight 5 mm seat molar straight 10 mm seat canine straight 5 mm',
      members: `bracket molar slot ${slot}, width ${width}\n  bracket canine`,
    }),
  );
  const play = slotPlay(design.attachments[0], design.section);
  return {
    thirdOrder: play && play.thirdOrder !== 'free' ? play.thirdOrder * degrees : Number.NaN,
    secondOrder: (play?.secondOrder ?? Number.NaN) * degrees,
  };
}

const flat = '0.016 in x 0.022 in';
const round = 'round 0.016 in';

export const formingRows: Row[] = [
  {
    row: 'C5',
    title: 'rectangle bent to eta = 0.5',
    source: 'handbook 3.4, closed form (elastic, perfectly plastic)',
    checks: () => {
      const { moment, left } = plasticBending(flat);
      return [check('M/M_y', '', 1.375, moment, 1e-6), check('curvature left', '', 0.3125, left, 1e-6)];
    },
  },
  {
    row: 'C6',
    title: 'round wire bent to eta = 0.5',
    source: 'handbook 3.4, closed form (elastic, perfectly plastic)',
    checks: () => {
      const { moment, left } = plasticBending(round);
      return [check('M/M_y', '', 1.49366, moment, 1e-4), check('curvature left', '', 0.25317, left, 1e-4)];
    },
  },
  {
    row: 'C7',
    title: 'shape factors: the moment of a bend without end over that of first yield',
    source: 'handbook 3.3, 3/2 and 16/(3 π)',
    checks: () => [
      check('rectangle', '', 1.5, plasticMomentRatio('rectangle', 1e-6), 1e-5),
      check('round', '', 1.69765, plasticMomentRatio('round', 1e-6), 1e-5),
    ],
  },
  {
    row: 'C8',
    title: 'springback of a rectangle, t 0.4064, E 180 GPa, Y 1500 MPa, Ri 1.0',
    source: 'handbook 3.6, Ri/Rf = 4x³ - 3x + 1',
    checks: () => {
      const { ratio, angle, radius } = overbendOf(flat, 0.938519);
      return [
        check('Ri/Rf', '', 0.938519, ratio, 1e-5),
        check('Ri', 'mm', 1, radius, 1e-5),
        degreeCheck('overbend for 90°', 95.9, angle),
      ];
    },
  },
  {
    row: 'C9',
    title: 'the same, round 0.4064',
    source: 'handbook 3.4 and 3.6',
    checks: () => {
      const { ratio, angle } = overbendOf(round, 0.9304);
      return [check('Ri/Rf', '', 0.9304, ratio, 1e-3), check('overbend for 90°', 'deg', 96.7, angle, 1e-3)];
    },
  },
  {
    row: 'C44',
    title: 'third-order play, 0.019 x 0.025 in 0.022, edges of 0 and 0.06 mm',
    source: 'handbook 2.3, closed form; one-sided',
    checks: () => [
      degreeCheck('sharp', 7.24, playOf({ wire: '0.019 in x 0.025 in', slot: '0.022 in x 0.028 in' }).thirdOrder),
      degreeCheck(
        'r 0.06 mm',
        9.01,
        playOf({ wire: '0.019 in x 0.025 in corner 0.06 mm', slot: '0.022 in x 0.028 in' }).thirdOrder,
      ),
    ],
  },
  {
    row: 'C45',
    title: 'third-order play, 0.017 x 0.025 in 0.018',
    source: 'handbook 2.3, closed form; one-sided',
    checks: () => [
      degreeCheck('sharp', 2.32, playOf({ wire: '0.017 in x 0.025 in', slot: '0.018 in x 0.025 in' }).thirdOrder),
    ],
  },
  {
    row: 'C46',
    title: 'third-order play, 0.016 x 0.022 in a slot of 0.476 mm, r 0.05',
    source: 'handbook 2.3, closed form; [MEL97] 18.5° (16.6 to 20.4), read as peak to peak: a plausibility row',
    checks: () => {
      const { thirdOrder } = playOf({ wire: '0.016 in x 0.022 in corner 0.05 mm', slot: '0.476 mm x 0.635 mm' });
      return [
        degreeCheck('one-sided', 9.23, thirdOrder),
        degreeCheck('peak to peak', 18.45, 2 * thirdOrder),
        { ...check('peak to peak, paper', 'deg', 18.5, 2 * thirdOrder, 1.9), scale: 1 },
      ];
    },
  },
  {
    row: 'C47',
    title: 'second-order clearance, 0.014 in 0.022, width 0.125 in',
    source: 'handbook 2.4, exact contact; [KW99a] maximum of nominal wires 3.7°',
    checks: () => {
      const { secondOrder } = playOf({ wire: 'round 0.014 in', slot: '0.022 in x 0.028 in', width: '0.125 in' });
      return [
        degreeCheck('exact', 3.649, secondOrder),
        // What the product computes is the exact form; the approximate one is within 2 % of it.
        { ...check('against the approximate form', 'deg', 3.667, secondOrder, 0.02), scale: 3.667 },
        { ...check('paper', 'deg', 3.7, secondOrder, 0), bound: 'at most' },
      ];
    },
  },
];
