/** One-couple wires: cantilevers held in a bracket and by a hook that leaves the wire free along its mesial axis. */
import type { EngagedState } from '#core/analysis/analysis';
import { outlineAt } from '../balance';
import { appliance, type Check, mm, type Row, type Solver } from '../row';
import { solveFor } from '../solve-for';

/** E I of the wire that most rows use: 0.017 x 0.025 in flat, E = 69 GPa (handbook 3.7). */
const wire = { wire: '0.017 in x 0.025 in', modulus: '69 GPa' };
const rigidity = (69_000 * 0.635 * 0.4318 ** 3) / 12;

/** A millimetre of wire beyond the hook shows the slope of the wire at it. */
function cantilever(length: number, members: string): string {
  return appliance({
    ...wire,
    path: `seat molar
    straight ${mm(length)}
    seat incisor
    straight 1 mm`,
    members,
  });
}

const alphaRows: readonly [string, number, number, number, number][] = [
  ['C15', 1, 0.301721, 0.056433, 26.4335],
  ['C16', 2, 0.493457, 0.160642, 44.791],
  ['C17', 5, 0.713792, 0.387628, 69.6355],
  ['C18', 10, 0.810609, 0.554996, 81.9493],
];

const length = 25;

/** Where the stated load alpha = P L² / (E I) holds the tip, and the slope there (deg). */
function elastica(solver: Solver, alpha: number, guess: number): { w: number; u: number; slope: number } {
  const text = (w: number) => cantilever(length, `bracket molar\n  hook incisor moved ${mm(w)} gingival`);
  const force = (w: number) => -solver.last(text(w)).wrenches[1].force[1];
  const load = (alpha * rigidity) / length ** 2;
  const [w] = solveFor(([at]) => [force(at) / load - 1], [guess * length], { probe: 1e-4, tolerance: 1e-8 });
  const state = solver.last(text(w));
  const tip = outlineAt(state, length);
  const end = outlineAt(state, length + 1);
  const slope = Math.atan2(end[1] - tip[1], end[0] - tip[0]);
  return { w: tip[1] / length, u: 1 - tip[0] / length, slope: (slope * 180) / Math.PI };
}

function check(quantity: string, unit: string, expected: number, obtained: number, tolerance: number): Check {
  return { quantity, unit, expected, obtained, tolerance };
}

export const cantileverRows: Row[] = [
  {
    row: 'C12',
    title: 'cantilever 0.017 x 0.025 flat, E 69 GPa, L 25',
    source: 'handbook 3.5, F = 3 E I d / L³',
    checks: (solver) => {
      const small = 0.001;
      const state = solver.last(
        cantilever(
          length,
          `bracket molar
  hook incisor
  activation move incisor gingival 0 mm .. ${mm(small)} step ${mm(small)}`,
        ),
      );
      return [check('stiffness', 'N/mm', 0.05644, -state.wrenches[1].force[1] / small, 1e-3)];
    },
  },
  {
    row: 'C13',
    title: 'the same with one helix of diameter 3 at the root',
    source:
      'handbook 3.5: 1/k = L³/(3 E I) + π D N L²/(E I), and 3.10; coils in one plane, as the formulas have them. The first takes all wire of the helix to stand at the root, so that it is wound small there; a coil of 3 mm reaches beyond it, and 3.10 takes in its own size',
    checks: (solver) => {
      const small = 0.001;
      const stiffness = (helix: string) => {
        const text = appliance({
          ...wire,
          path: `seat molar ${helix} straight ${mm(length)} seat incisor`,
          members: `bracket molar
  hook incisor
  activation move incisor gingival 0 mm .. ${mm(small)} step ${mm(small)}`,
        });
        return -solver.last(text).wrenches[1].force[1] / small;
      };
      const gathered = stiffness('helix 10 turns diameter 0.3 mm toward gingival pitch 0 mm');
      const round = Math.PI * 3;
      const ownSize = rigidity / (length ** 3 / 3 + round * (length ** 2 + 3 ** 2 / 8));
      return [
        check('stiffness, π D of wire at the root', 'N/mm', 0.02649, gathered, 1e-3),
        check('share of the plain one', '', 0.4693, gathered / stiffness(''), 1e-3),
        check(
          'stiffness, coil with its own size',
          'N/mm',
          ownSize,
          stiffness('helix 1 turn diameter 3 mm toward gingival pitch 0 mm'),
          1e-4,
        ),
      ];
    },
  },
  {
    row: 'C14',
    title: 'torsion spring 0.016 round, E 180 GPa, D 3, N 1',
    source: 'handbook 3.9, k = E d⁴/(64 D N); the coil in one plane, its ends turned about its centre',
    checks: (solver) => {
      // Turned about the coil's centre, the end also moves along the wire: by the radius times the angle.
      const angle = 0.0001;
      const { wrenches } = solver.last(
        appliance({
          wire: 'round 0.016 in',
          modulus: '180 GPa',
          path: 'seat molar helix 1 turn diameter 3 mm toward gingival pitch 0 mm seat canine',
          members: `bracket molar
  bracket canine at ${mm(1.5 * Math.sin(angle))} mesial ${mm(1.5 * (1 - Math.cos(angle)))} gingival tip ${angle} rad`,
        }),
      );
      const couple = Math.abs(wrenches[1].moment[2]);
      return [
        check('moment per rad', 'N mm/rad', 25.573, couple / angle, 1e-4),
        check('moment per degree', 'N mm/deg', 0.44634, (couple / angle) * (Math.PI / 180), 1e-4),
        { ...check('force', 'N', 0, Math.hypot(...wrenches[1].force), 1e-3), scale: couple / 1.5 },
      ];
    },
  },
  ...alphaRows.map(
    ([row, alpha, w, u, slope]): Row => ({
      row,
      title: `elastica cantilever, alpha = ${alpha}`,
      source: 'handbook 3.7, elliptic integrals; [BD45], [MAT81] (from memory)',
      checks: (solver) => {
        const found = elastica(solver, alpha, w);
        return [
          check('w/L', '', w, found.w, 1e-5),
          check('u/L', '', u, found.u, 1e-5),
          check('tip slope', 'deg', slope, found.slope, 1e-5),
        ];
      },
    }),
  ),
  {
    row: 'C20',
    title: 'fixed-guided, free to draw in, alpha = 4',
    source: 'handbook 3.7, elliptic integrals by symmetry',
    checks: (solver) => {
      // At the neutral position of a pull no force acts along the wire: it has drawn in as much as it wants.
      const text = (y: number) =>
        appliance({
          ...wire,
          path: `straight 4 mm
    seat molar
    straight ${mm(length)}
    seat canine`,
          members: `bracket molar
  bracket canine moved ${mm(y)} gingival
  activation pull through molar 0 mm .. 0 mm step 1 mm`,
        });
      const freeLength = (state: EngagedState) => length - state.motion;
      const [y] = solveFor(
        ([at]) => {
          const state = solver.last(text(at));
          return [(-state.wrenches[1].force[1] * freeLength(state) ** 2) / (4 * rigidity) - 1];
        },
        [length * 0.31],
        { probe: 1e-4, tolerance: 1e-8 },
      );
      const drawnIn = freeLength(solver.last(text(y)));
      return [
        check('delta/L', '', 0.301721, y / drawnIn, 1e-5),
        check('shortening/L', '', 0.056433, 1 - length / drawnIn, 1e-5),
      ];
    },
  },
  {
    row: 'C21',
    title: 'tip-back cantilever 30°, L 30',
    source: 'handbook 3.7, computed there with a non-linear rod',
    checks: (solver) => {
      const text = cantilever(30, 'bracket molar tip 30 deg\n  hook incisor at 30 mm mesial');
      const state = solver.last(text);
      return [
        check('force', 'N', 0.52172, Math.abs(state.wrenches[1].force[1]), 1e-3),
        check('root moment', 'N mm', 15.229, Math.abs(state.wrenches[0].moment[2]), 1e-3),
        check('tip x', 'mm', 29.19, outlineAt(state, 30)[0], 1e-3),
      ];
    },
  },
  {
    row: 'C54',
    title: 'cantilever arch, F = 0.60 N at 30 mm',
    source: 'statics (one couple)',
    checks: (solver) => {
      // Tip the molar's tube until the hook, level and 30 mm away, takes exactly 0.60 N.
      const text = (tip: number, arm: number) =>
        cantilever(arm, `bracket molar tip ${tip} deg\n  hook incisor at 30 mm mesial`);
      const [tip, arm] = solveFor(
        ([atTip, atArm]) => {
          const state = solver.last(text(atTip, atArm));
          return [Math.abs(state.wrenches[1].force[1]) / 0.6 - 1, outlineAt(state, atArm)[0] / 30 - 1];
        },
        [33, 31],
        { probe: 1e-4, tolerance: 1e-12 },
      );
      const { wrenches } = solver.last(text(tip, arm));
      return [
        check('couple at the molar', 'N mm', 18, Math.abs(wrenches[0].moment[2]), 1e-9),
        check('force at the molar', 'N', 0.6, Math.abs(wrenches[0].force[1]), 1e-9),
      ];
    },
  },
];
