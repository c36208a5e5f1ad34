/** Reading at the wire's line: what its section and alloy make of it. */
import { sectionProperties, stiffness } from '#core/material/section';
import { LENGTH, MOMENT, multiply, power } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { ResolvedAppliance } from '#model/resolved';
import type { Settings } from '../settings';
import type { Reading } from './reading';

export function wireReadings({ node, design }: ResolvedAppliance, { units }: Settings): Reading[] {
  const wire = node.members.find((member) => member.kind === 'wire');
  if (wire === undefined || design === undefined) return [];
  const { section, alloy } = design;
  const own = sectionProperties(section);
  const { EIside, EIup, GJ } = stiffness(section, alloy);
  const write = (value: number, dimension: Dimension) => formatQuantity({ value, dimension }, units);
  const bending = (name: string, inertia: number, rigidity: number, modulus: number) => [
    name,
    write(inertia, INERTIA),
    write(rigidity, RIGIDITY),
    write(alloy.yield * modulus, MOMENT),
  ];
  const rows =
    section.kind === 'round'
      ? [bending('in any plane', own.inertiaSide, EIside, own.modulusSide)]
      : [
          bending('through the height (second order)', own.inertiaSide, EIside, own.modulusSide),
          bending('through the width (first order)', own.inertiaUp, EIup, own.modulusUp),
        ];
  const table = [
    ['bending', 'I', 'E I', 'yields at'],
    ['---', '---:', '---:', '---:'],
    ...rows,
    ['twisting (third order)', `J ${write(own.torsionConstant, INERTIA)}`, `G J ${write(GJ, RIGIDITY)}`, ''],
  ].map((cells) => `| ${cells.join(' | ')} |`);
  const edges =
    section.kind === 'rectangle' && section.cornerRadius > 0
      ? `, edges rounded to ${write(section.cornerRadius, LENGTH)}`
      : '';
  const detail = [`Section of ${write(own.area, power(LENGTH, 2))}${edges}:`, '', ...table].join('\n');
  return [{ span: wire.span, line: 'last', kind: 'lengths', stale: false, text: undefined, detail }];
}

const INERTIA = power(LENGTH, 4);
const RIGIDITY = multiply(MOMENT, LENGTH);
