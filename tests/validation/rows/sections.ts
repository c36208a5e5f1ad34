/** Section properties of wires written in the language: handbook 3.1, 3.2 and C1 to C4. */
import { type SectionProperties, sectionProperties } from '#core/material/section';
import { appliance, type Check, type Row } from '../row';
import { designOf } from '../run-spring';

const source = 'handbook 3.1: closed forms; torsion by Saint-Venant’s series (Timoshenko and Goodier)';

function properties(wire: string): SectionProperties {
  const text = appliance({
    wire,
    modulus: '180 GPa',
    path: 'seat molar straight 10 mm seat canine',
    members: 'bracket molar bracket canine',
  });
  return sectionProperties(designOf(text).section);
}

function check(quantity: string, unit: string, expected: number, obtained: number, tolerance = 1e-4): Check {
  return { quantity, unit, expected, obtained, tolerance };
}

export const sectionRows: Row[] = [
  {
    row: 'C1',
    title: '0.016 in round',
    source,
    checks: () => {
      const p = properties('round 0.016 in');
      return [
        check('I', 'mm⁴', 1.339e-3, p.inertiaSide),
        check('J', 'mm⁴', 2.678e-3, p.torsionConstant),
        check('S', 'mm³', 6.5896e-3, p.modulusSide),
      ];
    },
  },
  {
    row: 'C2',
    title: '0.017 x 0.025 in',
    source,
    checks: () => {
      const p = properties('0.017 in x 0.025 in');
      return [check('I flat', 'mm⁴', 4.2603e-3, p.inertiaSide), check('I edge', 'mm⁴', 9.2135e-3, p.inertiaUp)];
    },
  },
  {
    row: 'C3',
    title: '0.016 x 0.022 in torsion constant',
    source: `${source}; Roark’s polynomial 6.9076e-3 within 5e-3`,
    checks: () => {
      const p = properties('0.016 in x 0.022 in');
      return [
        check('J', 'mm⁴', 6.9216e-3, p.torsionConstant),
        check('J against Roark', 'mm⁴', 6.9076e-3, p.torsionConstant, 5e-3),
      ];
    },
  },
  {
    row: 'C4',
    title: 'cross-section number, 0.016 x 0.022 against 0.004 in round',
    source: 'handbook 3.1, agrees with [B81]',
    checks: () => {
      const reference = properties('round 0.004 in').inertiaSide;
      const p = properties('0.016 in x 0.022 in');
      return [
        check('flat', '', 597.57, p.inertiaSide / reference),
        check('edge', '', 1129.79, p.inertiaUp / reference),
      ];
    },
  },
];
