/**
 * Bends and misaligned brackets in a straight wire: handbook section 4. The sources are linear, without shear and
 * stretch, and their wire slides without tension. So the rows run at a thousandth of the load and are read at the
 * neutral position of a pull through the first bracket, where no force acts along the wire.
 */
import { appliance, type Check, mm, type Row, roundWire, type Solver } from '../row';

const gf = 0.00980665;

/** 0.016 in round steel at 30 x 10^6 psi: E I = 276.97 N mm² (handbook 4.2). */
const steel = (206_842.7188 * Math.PI * 0.4064 ** 4) / 64;

interface Span {
  /** E I of the round wire, N mm². */
  readonly rigidity?: number;
  readonly length: number;
  /** Preactivation bends toward gingival, rad, at a distance from the first bracket, mm. */
  readonly bends?: readonly (readonly [number, number])[];
  readonly tips?: readonly [number, number];
  /** Movement of the second bracket toward gingival, mm. */
  readonly step?: number;
  /** The wire slides through the second bracket by itself, instead of being read where a pull leaves no force along it. */
  readonly sliding?: true;
}

function spanText({ rigidity = steel, length, bends = [], tips = [0, 0], step = 0, sliding }: Span): string {
  const path = ['straight 1 mm', 'seat first'];
  let station = 0;
  for (const [angle, at] of bends) {
    const side = angle > 0 ? 'gingival' : 'occlusal';
    path.push(`straight ${mm(at - station)}`, `preactivate ${Math.abs(angle)} rad toward ${side} radius 0 mm`);
    station = at;
  }
  path.push(`straight ${mm(length - station)}`, 'seat second', 'straight 1 mm');
  return appliance({
    ...roundWire(rigidity),
    path: path.join('\n    '),
    members: `bracket first tip ${tips[0]} rad
  bracket second${step === 0 ? '' : ` moved ${mm(step)} gingival`} tip ${tips[1]} rad${sliding ? ', sliding' : '\n  activation pull through first 0 mm .. 0 mm step 1 mm'}`,
  });
}

function forces(solver: Solver, span: Span): { first: number; second: number; shear: number } {
  const { wrenches } = solver.last(spanText(span));
  return { first: wrenches[0].moment[2], second: wrenches[1].moment[2], shear: wrenches[1].force[1] };
}

function check(quantity: string, unit: string, expected: number, obtained: number, tolerance: number): Check {
  return { quantity, unit, expected, obtained, tolerance };
}

const places: readonly (readonly [number, number, number])[] = [
  [0.1, 0.4118, 0.4],
  [0.2, 0.2857, 0.3],
  [0.4, -0.25, -0.3],
  [0.5, -1, -1],
];

function ratioOfV(solver: Solver, xi: number, sliding?: true): number {
  const { first, second } = forces(solver, { length: 7, bends: [[0.0002, 7 * xi]], ...(sliding && { sliding }) });
  return second / first;
}

/** The thousandth of the load at which the linear rows run. */
const part = 1e-3;

export const bendRows: Row[] = [
  {
    row: 'C23',
    title: 'straight wire, tA/tB = 0.5 and -0.75',
    source: 'handbook 4.1, [BK74]',
    checks: (solver) =>
      [
        [0.5, 0.8],
        [-0.75, -0.4],
      ].map(([ratio, expected]) => {
        const { first, second } = forces(solver, { length: 10, tips: [ratio * 0.1 * part, 0.1 * part] });
        return check(`M_A/M_B at ${ratio}`, '', expected, first / second, 1e-5);
      }),
  },
  {
    row: 'C24',
    title: 'V bend at xi = 0.1, 0.2, 0.4, 0.5',
    source: 'handbook 4.2, closed form',
    checks: (solver) =>
      // The expected values are printed with four decimals.
      places.flatMap(([xi, expected]) => [
        { ...check(`M_B/M_A at ${xi}`, '', expected, ratioOfV(solver, xi), 1e-4), scale: 1 },
        { ...check(`M_B/M_A at ${xi}, sliding`, '', expected, ratioOfV(solver, xi, true), 1e-4), scale: 1 },
      ]),
  },
  {
    row: 'C25',
    title: 'the same against the published table',
    source: '[BK88] table II, rounded to one decimal',
    checks: (solver) =>
      places.map(([xi, , published]) => ({
        ...check(`M_B/M_A at ${xi}`, '', published, ratioOfV(solver, xi), 0.05),
        scale: 1,
      })),
  },
  {
    row: 'C26',
    title: 'V bend 0.2 rad, EI 276.97, L 7, xi 0.2',
    source: 'handbook 4.2, closed form',
    checks: (solver) =>
      [false, true].flatMap((sliding) => {
        const bent: Span = { length: 7, bends: [[0.2 * part, 1.4]], ...(sliding && { sliding }) };
        const { first, second, shear } = forces(solver, bent);
        const free = sliding ? ', sliding' : '';
        return [
          check(`M_A${free}`, 'N mm', 22.158, Math.abs(first) / part, 1e-3),
          check(`M_B, same sense${free}`, 'N mm', 6.331, (second * Math.sign(first)) / part, 1e-3),
          check(`V${free}`, 'N', 4.07, Math.abs(shear) / part, 1e-3),
        ];
      }),
  },
  {
    row: 'C27',
    title: 'step 0.35 mm, L 7, EI 276.97, any position',
    source: 'handbook 4.3, closed form',
    checks: (solver) =>
      [
        ...[1, 3, 5].map((at): [string, Span] => [
          `step bend at ${at} mm`,
          {
            length: 7,
            bends: [
              [0.7 * part, at],
              [-0.7 * part, at + 0.5],
            ],
          },
        ]),
        ['bracket moved', { length: 7, step: 0.35 * part }] as [string, Span],
      ].flatMap(([name, span]) => {
        const { first, second, shear } = forces(solver, span);
        return [
          check(`M_A, ${name}`, 'N mm', 11.87, Math.abs(first) / part, 1e-3),
          check(`M_B, ${name}`, 'N mm', 11.87, Math.abs(second) / part, 1e-3),
          check(`force, ${name}`, 'N', 3.3915, Math.abs(shear) / part, 1e-3),
        ];
      }),
  },
  {
    row: 'C28',
    title: 'the same against the paper',
    source: '[BK88]: 1210 gf mm and 347 gf',
    checks: (solver) => {
      const { first, shear } = forces(solver, {
        length: 7,
        bends: [
          [0.7 * part, 3],
          [-0.7 * part, 3.5],
        ],
      });
      return [
        check('couple', 'gf mm', 1210, Math.abs(first) / part / gf, 1e-2),
        check('force', 'gf', 347, Math.abs(shear) / part / gf, 1e-2),
      ];
    },
  },
  {
    row: 'C29',
    title: 'V bend of height 0.35, a 1.05, L 7, EI 276.9',
    source: 'handbook 4.2, closed form; [BK88]: 4840 and 1720 gf mm',
    checks: (solver) => {
      const angle = 0.35 / 1.05 + 0.35 / (7 - 1.05);
      const { first, second } = forces(solver, { rigidity: 276.9, length: 7, bends: [[angle * part, 1.05]] });
      const [near, far] = [Math.abs(first) / part / gf, (second * Math.sign(first)) / part / gf];
      return [
        check('M_A', 'gf mm', 4903, near, 1e-3),
        check('M_B', 'gf mm', 1740, far, 1e-3),
        check('M_A, paper', 'gf mm', 4840, near, 3e-2),
        check('M_B, paper', 'gf mm', 1720, far, 3e-2),
      ];
    },
  },
];
