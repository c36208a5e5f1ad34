/** Torsion, a bar between two molars, and the allowance of a bend: handbook 2.3, 3.6, 4.5. */
import { appliance, type Check, mm, type Row } from '../row';

function check(quantity: string, unit: string, expected: number, obtained: number, tolerance: number): Check {
  return { quantity, unit, expected, obtained, tolerance };
}

export const barRows: Row[] = [
  {
    row: 'C48',
    title: 'torsion of 0.016 x 0.022, E 180 GPa, nu 0.3, l = 4',
    source: 'handbook 2.3 and 3.2, T = G J φ / l',
    checks: (solver) => {
      const torque = (angle: number) =>
        solver.last(
          appliance({
            wire: '0.016 in x 0.022 in',
            modulus: '180 GPa',
            path: `seat lateral
    straight 4 mm
    seat central`,
            members: `bracket lateral\n  bracket central torque ${angle} deg`,
          }),
        ).wrenches[1].moment[0];
      return [
        check('moment per degree', 'N mm/deg', 2.0909, Math.abs(torque(1)), 1e-3),
        check('moment at 9.565°', 'N mm', 20, Math.abs(torque(9.565)), 1e-3),
      ];
    },
  },
  {
    row: 'C49',
    title: 'bar 0.036 round, E 180 GPa, S 50, 10° toe-in each side (as a straight bar)',
    source: 'handbook 4.5, M = E I θ / S',
    checks: (solver) => {
      // Under two equal couples the bar is an arc of 20°; its chord is where no force is left.
      const chord = (50 * Math.sin(Math.PI / 18)) / (Math.PI / 18);
      const { wrenches } = solver.last(
        appliance({
          wire: 'round 0.036 in',
          modulus: '180 GPa',
          path: `straight 4 mm
    seat first
    straight 50 mm
    seat second`,
          members: `tube first rotation -10 deg
  tube second at ${mm(chord)} mesial rotation 10 deg
  activation pull through first 0 mm .. 0 mm step 1 mm`,
        }),
      );
      return [
        check('couple, first', 'N mm', 43.13, Math.abs(wrenches[0].moment[1]), 1e-3),
        check('couples, sum', 'N mm', 0, wrenches[0].moment[1] + wrenches[1].moment[1], 1e-3),
        check('force', 'N', 0, Math.hypot(...wrenches[0].force), 1e-3),
      ].map((one) => (one.expected === 0 ? { ...one, scale: one.unit === 'N' ? 43.13 / 50 : 43.13 } : one));
    },
  },
  {
    row: 'C56',
    title: 'helix, mean diameter 3, 2 turns, pitch 0.4064',
    source: 'handbook 3.9, turns × √((π D)² + p²)',
    checks: (solver) => {
      const { design, analysis } = solver.run(
        appliance({
          wire: 'round 0.016 in',
          modulus: '180 GPa',
          path: 'seat molar straight 5 mm helix 2 turns diameter 3 mm toward gingival straight 5 mm seat canine',
          members: 'bracket molar bracket canine',
        }),
      );
      const [x, , z] = design.attachments[1].seatedWire.position;
      return [
        check('length', 'mm', 18.867, analysis.developedLength - 10, 1e-4),
        check('offset, turns × pitch along the helix', 'mm', 2 * 0.4064, Math.hypot(x - 10, z), 1e-9),
      ];
    },
  },
  {
    row: 'C55',
    title: 'bend of 90°, inner radius 0.5, wire 0.4064',
    source: 'handbook 3.6',
    checks: (solver) => {
      const bent = solver.run(
        appliance({
          wire: 'round 0.016 in',
          modulus: '180 GPa',
          path: `seat molar
    straight 5 mm
    bend 90 deg toward gingival radius (0.5 mm + wire.thickness / 2)
    straight 5 mm
    bend 90 deg toward mesial radius 0 mm
    straight 5 mm
    seat canine`,
          members: 'bracket molar bracket canine',
        }),
      ).analysis;
      const { points } = bent.nominal;
      const end = points.slice(-3);
      const arc = bent.developedLength - 15;
      // Tangents from the bend to its corner: how far the outline stands beyond its straight pieces.
      const tangents = end[0] - 10 + (end[1] - 5);
      return [
        check('centre-line arc', 'mm', 1.1046, arc, 1e-4),
        check('two tangents minus arc', 'mm', 0.3018, tangents - arc, 1e-4),
      ];
    },
  },
];
