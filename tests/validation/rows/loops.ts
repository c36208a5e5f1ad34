/** Closing loops between two brackets: handbook sections 3.10, 5.1 to 5.3. */
import { appliance, type Check, mm, type Row, type Solver } from '../row';

const steel = { wire: '0.016 in x 0.022 in', modulus: '180 GPa' };
const betaTitanium = { wire: '0.017 in x 0.025 in', modulus: '69 GPa' };

/** Displacements are a thousandth of a millimetre where the source is linear, and results are scaled back. */
const small = 0.001;

interface Loop {
  readonly wire: string;
  readonly modulus: string;
  /** Free length before and after the loop, mm. */
  readonly before: number;
  readonly after: number;
  readonly body: string;
  /** Turn of both brackets so that the arms are to be raised (deg each side), and the movement of the canine, mm. */
  readonly gable?: number;
  readonly dx: number;
}

/** A loop with sharp corners between two brackets that hold the wire at a point. */
function loopText({ wire, modulus, before, after, body, gable = 0, dx }: Loop): string {
  const bend = gable === 0 ? '' : `preactivate ${gable} deg toward gingival radius 0 mm`;
  return appliance({
    wire,
    modulus,
    path: `seat molar
    straight ${mm(before)}
    ${bend}
    ${body}
    ${bend}
    straight ${mm(after)}
    seat canine`,
    members: `bracket molar
  bracket canine moved ${mm(dx)} mesial`,
  });
}

function vertical(height: number, radius: number): string {
  return `bend 90 deg toward gingival radius 0 mm
    straight ${mm(height - radius)}
    bend 180 deg toward mesial radius ${mm(radius)}
    straight ${mm(height - radius)}
    bend 90 deg toward mesial radius 0 mm`;
}

/** T-loop with end half-circles of radius 1 and legs 1 mm apart, sharp leg corners (handbook 5.3). */
function tShape(height: number, width: number): string {
  const leg = mm(height - 2);
  const bar = mm((width - 1) / 2 - 1);
  return `bend 90 deg toward gingival radius 0 mm
    straight ${leg}
    bend 90 deg toward distal radius 0 mm
    straight ${bar}
    bend 180 deg toward gingival radius 1 mm
    straight ${mm(width - 2)}
    bend 180 deg toward occlusal radius 1 mm
    straight ${bar}
    bend 90 deg toward occlusal radius 0 mm
    straight ${leg}
    bend 90 deg toward mesial radius 0 mm`;
}

const tLoop = tShape(7, 10);

const castigliano = 'handbook 3.10 and 5, computed there from the elastic-centre closed form';
const rod = 'handbook 5, computed there with a non-linear rod (shooting)';

/** Forces on the molar and couples on both teeth about buccal, N and N mm. */
function forces(solver: Solver, loop: Loop): { fx: number; fy: number; molar: number; canine: number } {
  const { wrenches } = solver.last(loopText(loop));
  return {
    fx: wrenches[0].force[0],
    fy: wrenches[0].force[1],
    molar: wrenches[0].moment[2],
    canine: wrenches[1].moment[2],
  };
}

function check(quantity: string, unit: string, expected: number, obtained: number, tolerance: number): Check {
  return { quantity, unit, expected, obtained, tolerance };
}

/**
 * Place a/L at which the couple at the far end vanishes, for a loop whose middle stands at a from the molar and whose
 * legs are `gap` apart, L 14: between two places a hundredth of the source's figure to either side, on a straight line.
 */
function signChange(solver: Solver, body: string, gap: number, near: number): number {
  const length = 14;
  const couple = (share: number): number => {
    const before = share * length - gap / 2;
    return forces(solver, { ...steel, before, after: length - gap - before, body, dx: small }).molar;
  };
  const [low, high] = [0.99 * near, 1.01 * near];
  const [atLow, atHigh] = [couple(low), couple(high)];
  return low - (atLow * (high - low)) / (atHigh - atLow);
}

export const loopRows: Row[] = [
  {
    row: 'C30',
    title: 'vertical loop h 8, r 1, L 7, linear',
    source: castigliano,
    checks: (solver) => {
      const loop = { ...steel, before: 2.5, after: 2.5, body: vertical(8, 1), dx: small };
      const run = solver.run(loopText(loop));
      const { fx, molar } = forces(solver, loop);
      return [
        check('developed length', 'mm', 22.1416, run.analysis.developedLength, 1e-4),
        check('moment-to-force ratio', 'mm', 3.2966, Math.abs(molar / fx), 1e-4),
        check('force per mm', 'N/mm', 3.2795, fx / small, 1e-4),
      ];
    },
  },
  {
    row: 'C31',
    title: 'the same, dx = 1 and 2 mm',
    source: rod,
    checks: (solver) =>
      [
        [1, 3.3121, 10.721],
        [2, 6.7339, 21.292],
      ].flatMap(([dx, force, moment]) => {
        const { fx, molar } = forces(solver, { ...steel, before: 2.5, after: 2.5, body: vertical(8, 1), dx });
        return [
          check(`force at ${dx} mm`, 'N', force, fx, 1e-3),
          check(`couple at ${dx} mm`, 'N mm', moment, Math.abs(molar), 1e-3),
        ];
      }),
  },
  {
    row: 'C32',
    title: 'vertical loop h 6, r 1, L 7 (a published finding for a 6 mm loop: about 2)',
    source: `${castigliano}; [MMB89]`,
    checks: (solver) => {
      const { fx, molar } = forces(solver, { ...steel, before: 2.5, after: 2.5, body: vertical(6, 1), dx: small });
      const ratio = Math.abs(molar / fx);
      return [
        check('moment-to-force ratio', 'mm', 2.3541, ratio, 1e-4),
        { ...check('against the paper', 'mm', 2, ratio, 0.5), scale: 1 },
      ];
    },
  },
  {
    row: 'C33',
    title: 'vertical loop h 8, r 1, L 7 with one helix at the apex',
    source: `${castigliano}; the coil in one plane, as the formula has it`,
    checks: (solver) => {
      const body = `bend 90 deg toward gingival radius 0 mm
    straight 7 mm
    helix 1.5 turns diameter 2 mm toward mesial pitch 0 mm
    straight 7 mm
    bend 90 deg toward mesial radius 0 mm`;
      const loop = { ...steel, before: 2.5, after: 2.5, body, dx: small };
      const { fx, molar } = forces(solver, loop);
      return [
        check('developed length', 'mm', 28.4248, solver.run(loopText(loop)).analysis.developedLength, 1e-4),
        check('moment-to-force ratio', 'mm', 4.1152, Math.abs(molar / fx), 1e-4),
        check('force per mm', 'N/mm', 2.3265, fx / small, 1e-4),
      ];
    },
  },
  {
    row: 'C34',
    title: 'vertical loop h 10, r 1, L 14 at a = 11.06, dx = 1, linear',
    source: castigliano,
    checks: (solver) => {
      const loop = { ...steel, before: 10.06, after: 1.94, body: vertical(10, 1), dx: small };
      const { fx, fy, molar, canine } = forces(solver, loop);
      return [
        check('Fx', 'N', 1.8219, fx / small, 1e-3),
        check('Fy, size', 'N', 0.9129, Math.abs(fy) / small, 1e-3),
        check('couple, near end', 'N mm', 10.367, Math.abs(canine) / small, 1e-3),
        // The source gives internal moments: of opposite sense, where the couples on the teeth turn the same way.
        check('couple, far end', 'N mm', -2.414, (-molar * Math.sign(canine)) / small, 1e-3),
      ];
    },
  },
  {
    row: 'C35',
    title: 'the same loop, dx = 1, non-linear',
    source: rod,
    checks: (solver) => {
      const { fx, fy, molar, canine } = forces(solver, {
        ...steel,
        before: 10.06,
        after: 1.94,
        body: vertical(10, 1),
        dx: 1,
      });
      return [
        check('Fx', 'N', 1.8211, fx, 1e-3),
        check('Fy, size', 'N', 0.8298, Math.abs(fy), 1e-3),
        check('couple, near end', 'N mm', 10.434, Math.abs(canine), 1e-3),
        check('couple, far end', 'N mm', -2.013, -molar * Math.sign(canine), 1e-3),
      ];
    },
  },
  {
    row: 'C36',
    title: 'vertical loop h 10, r 1, L 14: place at which the far couple changes sign (paper: about 2/3)',
    source: `${castigliano}; [TV13]`,
    checks: (solver) => {
      const place = signChange(solver, vertical(10, 1), 2, 0.68);
      return [
        check('a/L', '', 0.68, place, 2e-3),
        { ...check('a/L against the paper', '', 0.667, place, 0.03), scale: 1 },
      ];
    },
  },
  {
    row: 'C37',
    title: 'T-loops, L 14: place at which the far couple changes sign (paper: about 4/5)',
    source: `${castigliano}; [TV13]`,
    checks: (solver) => {
      const [large, smaller] = [
        signChange(solver, tShape(10, 10), 1, 0.831),
        signChange(solver, tShape(8, 8), 1, 0.756),
      ];
      return [
        check('a/L, 10 x 10', '', 0.831, large, 2e-3),
        check('a/L, 8 x 8', '', 0.756, smaller, 2e-3),
        { ...check('a/L, 10 x 10, against the paper', '', 0.8, large, 0.05), scale: 1 },
      ];
    },
  },
  {
    row: 'C38',
    title: 'symmetrical loops without gable: M/F at most the height',
    source: 'closed form (the height of the centroid); finite elements of [TV13] found the same',
    checks: (solver) =>
      [
        { name: 'vertical 4', height: 4, loop: { ...steel, before: 4, after: 4, body: vertical(4, 1) } },
        { name: 'vertical 8', height: 8, loop: { ...steel, before: 0.5, after: 0.5, body: vertical(8, 1) } },
        { name: 'vertical 10', height: 10, loop: { ...steel, before: 2.5, after: 2.5, body: vertical(10, 0.5) } },
        { name: 'T 7 x 10', height: 7, loop: { ...betaTitanium, before: 0.5, after: 0.5, body: tLoop } },
      ].flatMap(({ name, height, loop }) =>
        [0.5, 2].map((dx): Check => {
          const { fx, molar } = forces(solver, { ...loop, dx });
          return {
            quantity: `M/F, ${name}, dx ${dx}`,
            unit: 'mm',
            expected: height,
            obtained: Math.abs(molar / fx),
            tolerance: 0,
            bound: 'at most',
          };
        }),
      ),
  },
  {
    row: 'C39',
    title: 'T-loop 7 x 10, rb 1, gap 1, L 23, linear',
    source: castigliano,
    checks: (solver) => {
      const loop = { ...betaTitanium, before: 11, after: 11, body: tLoop, dx: small };
      const run = solver.run(loopText(loop));
      const { fx, molar } = forces(solver, loop);
      return [
        check('developed length', 'mm', 53.2832, run.analysis.developedLength, 1e-4),
        check('moment-to-force ratio', 'mm', 2.8846, Math.abs(molar / fx), 1e-4),
        check('force per mm', 'N/mm', 0.67374, fx / small, 1e-4),
      ];
    },
  },
  {
    row: 'C40',
    title: 'the same, dx = 4, non-linear',
    source: rod,
    checks: (solver) => {
      const { fx, molar } = forces(solver, { ...betaTitanium, before: 11, after: 11, body: tLoop, dx: 4 });
      return [check('force', 'N', 2.8021, fx, 1e-3), check('couple', 'N mm', 5.9604, Math.abs(molar), 1e-3)];
    },
  },
  {
    row: 'C41',
    title: 'the same, gable 10° each side, dx = 2, non-linear',
    source: rod,
    checks: (solver) => {
      const { fx, molar } = forces(solver, { ...betaTitanium, before: 11, after: 11, body: tLoop, gable: 10, dx: 2 });
      return [check('force', 'N', 2.3201, fx, 1e-3), check('couple', 'N mm', 6.5642, Math.abs(molar), 1e-3)];
    },
  },
  {
    row: 'C42',
    title: 'the same, gable 1° each side, dx = 0, linear and non-linear; neutral shift',
    source: `${castigliano}; ${rod}`,
    checks: (solver) => {
      const loop = { ...betaTitanium, before: 11, after: 11, body: tLoop, dx: 0 };
      const linear = forces(solver, { ...loop, gable: 0.001 });
      const full = forces(solver, { ...loop, gable: 1 });
      const slope = forces(solver, { ...loop, dx: small }).fx / small;
      return [
        check('force, linear', 'N', 0.06784, linear.fx * 1000, 1e-3),
        check('couple, linear', 'N mm', 0.38826, Math.abs(linear.molar) * 1000, 1e-3),
        check('force, non-linear', 'N', 0.06886, full.fx, 1e-3),
        check('couple, non-linear', 'N mm', 0.3873, Math.abs(full.molar), 1e-3),
        check('neutral shift, linear', 'mm', 0.1007, (linear.fx * 1000) / slope, 1e-3),
      ];
    },
  },
  {
    row: 'C43',
    title: 'T-loop 1 mm off centre, no gable, linear',
    source: castigliano,
    checks: (solver) => {
      const { fx, fy, molar, canine } = forces(solver, {
        ...betaTitanium,
        before: 10,
        after: 12,
        body: tLoop,
        dx: small,
      });
      return [
        check('M/F, left', 'mm', 3.465, Math.abs(molar / fx), 1e-3),
        check('M/F, right', 'mm', 2.244, Math.abs(canine / fx), 1e-3),
        check('Fx', 'N', 0.6792, fx / small, 1e-3),
        check('Fy, size', 'N', 0.03604, Math.abs(fy) / small, 1e-3),
      ];
    },
  },
];
