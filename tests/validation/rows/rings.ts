/** Rings, straight wires on two supports, the same bend in two alloys, and units: handbook 3.5, 3.7, 3.8, 1.3. */
import { outlineAt } from '../balance';
import { appliance, type Check, mm, type Row } from '../row';
import { applianceOf, designOf } from '../run-spring';

function check(quantity: string, unit: string, expected: number, obtained: number, tolerance: number): Check {
  return { quantity, unit, expected, obtained, tolerance };
}

function threePoint(row: string, wire: string, modulus: string, title: string, stiffness: number): Row {
  return {
    row,
    title: `three-point bending, l = 10, ${title}`,
    source: 'handbook 3.5, F = 48 E I d / l³; by symmetry, half of the span held level in the middle',
    checks: (solver) => {
      const small = 0.001;
      const { wrenches } = solver.last(
        appliance({
          wire,
          modulus,
          path: 'seat middle straight 5 mm seat support',
          members: `bracket middle
  hook support
  activation move support gingival 0 mm .. ${mm(small)} step ${mm(small)}`,
        }),
      );
      return [check('stiffness', 'N/mm', stiffness, (-2 * wrenches[1].force[1]) / small, 1e-4)];
    },
  };
}

export const ringRows: Row[] = [
  threePoint('C10', 'round 0.016 in', '180 GPa', '0.016 round, E 180 GPa', 11.5691),
  threePoint('C11', '0.017 in x 0.025 in', '69 GPa', '0.017 x 0.025 flat, E 69 GPa', 14.1101),
  {
    row: 'C19',
    title: 'end couple M L/(E I) = 2 π: a ring that is held straight, and the ring that is left of it',
    source: 'handbook 3.7, circle of radius E I/M',
    checks: (solver) => {
      const radius = 2;
      const length = 2 * Math.PI * radius;
      const { analysis, design } = solver.run(
        appliance({
          // A round wire would twist out of the plane under so large a couple.
          wire: '0.016 in x 0.022 in',
          modulus: '180 GPa',
          path: `straight 2 mm seat molar preactivate 360 deg toward gingival radius ${mm(radius)} seat canine`,
          // Where no force acts along the wire.
          members: 'bracket molar bracket canine activation pull through molar 0 mm .. 0 mm step 1 mm',
        }),
      );
      const origin = outlineOf(analysis.passive, 2);
      const tip = Math.hypot(...outlineOf(analysis.passive, 2 + length).map((value, k) => value - origin[k]));
      const rigidity = (design.alloy.modulus * 0.5588 * 0.4064 ** 3) / 12;
      const couple = Math.abs(analysis.stages[0].state?.wrenches[0].moment[2] ?? Number.NaN);
      return [
        { ...check('tip to origin over L', '', 0, tip / length, 1e-6), scale: 1 },
        check('M L/(E I)', '', 2 * Math.PI, (couple * length) / rigidity, 1e-6),
      ];
    },
  },
  {
    row: 'C22',
    title: 'ring under diametral load',
    source: 'handbook 3.8 (Castigliano; Roark); by symmetry, half of the ring held level at both ends',
    checks: (solver) => {
      const radius = 20;
      const small = 0.0002;
      const { design, analysis } = solver.run(
        appliance({
          wire: 'round 0.016 in',
          modulus: '180 GPa',
          path: `seat low bend 180 deg toward gingival radius ${mm(radius)} seat high`,
          members: `bracket low
  bracket high moved ${mm(small)} occlusal`,
        }),
      );
      const state = analysis.stages[0].state!;
      const rigidity = (design.alloy.modulus * Math.PI * 0.4064 ** 4) / 64;
      // Each half carries half of the load.
      const load = 2 * Math.abs(state.wrenches[0].force[1]);
      const unit = (load * radius ** 3) / rigidity;
      const half = (Math.PI * radius) / 2;
      const before = outlineOf(analysis.nominal, half);
      const after = outlineAt(state, half);
      const underLoad = Math.abs(state.wrenches[0].moment[2]);
      const [fx, fy] = state.wrenches[0].force;
      // Moment of the wire at the side, from the load at its lower end and the way to there.
      const side = Math.abs(state.wrenches[0].moment[2] - (after[0] * fy - after[1] * fx));
      return [
        check('shortening', 'P R³/EI', 0.148779, small / unit, 1e-5),
        check('widening', 'P R³/EI', 0.13662, (2 * (after[0] - before[0])) / unit, 1e-5),
        check('moment under the load', 'P R', 0.31831, underLoad / (load * radius), 1e-5),
        check('moment at the side', 'P R', 0.18169, side / (load * radius), 1e-5),
      ];
    },
  },
  {
    row: 'C57',
    title: 'the same step bend in steel and beta-titanium, 0.019 x 0.025',
    source: 'E ratio of handbook 1.1; [A18] measured 0.415: a spread, not a test',
    checks: (solver) => {
      const force = (modulus: string) =>
        Math.abs(
          solver.last(
            appliance({
              wire: '0.019 in x 0.025 in',
              modulus,
              path: 'straight 2 mm seat lateral straight 7 mm seat canine',
              members: `bracket lateral
  bracket canine moved 0.5 mm gingival
  activation pull through lateral 0 mm .. 0 mm step 1 mm`,
            }),
          ).wrenches[0].force[1],
        );
      const low = force('66 GPa') / force('180 GPa');
      const high = force('69 GPa') / force('165 GPa');
      return [
        check('66/180 GPa', '', 66 / 180, low, 1e-3),
        check('69/165 GPa', '', 69 / 165, high, 1e-3),
        { ...check('measured, against the middle', '', 0.415, (low + high) / 2, 0), information: true },
      ];
    },
  },
  {
    row: 'C58',
    title: 'units',
    source: 'exact conversions, handbook 0',
    checks: () => {
      const { values } = applianceOf(
        appliance({
          wire: 'round 0.016 in',
          modulus: '180 GPa',
          path: 'seat molar straight 10 mm seat canine',
          members: 'let force = 350 gf  let size = 0.017 in  let couple = 1500 gf mm  bracket molar bracket canine',
        }),
      );
      const value = (name: string) => values.get(name)?.value ?? Number.NaN;
      return [
        check('350 gf', 'N', 3.43233, value('force'), 1e-6),
        check('0.017 in', 'mm', 0.4318, value('size'), 1e-6),
        check('1500 gf mm', 'N mm', 14.70998, value('couple'), 1e-6),
        check('0.016 in as a wire', 'mm', 0.4064, diameter(), 1e-6),
      ];
    },
  },
];

function diameter(): number {
  const { section } = designOf(
    appliance({
      wire: 'round 0.016 in',
      modulus: '180 GPa',
      path: 'seat molar straight 10 mm seat canine',
      members: 'bracket molar bracket canine',
    }),
  );
  return section.kind === 'round' ? section.diameter : Number.NaN;
}

/** Point of a free outline at a station, which must be one of its own. */
function outlineOf(
  { stations, points }: { readonly stations: readonly number[]; readonly points: readonly number[] },
  station: number,
) {
  const at = stations.findIndex((one) => Math.abs(one - station) < 1e-9);
  return points.slice(3 * at, 3 * at + 3);
}
