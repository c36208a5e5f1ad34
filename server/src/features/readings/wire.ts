/** Readings at the wire's line and where it changes: what its section and alloy make of it. */
import type { Stock } from '#core/design';
import { sectionProperties, stiffness } from '#core/material/section';
import { LENGTH, MOMENT, multiply, power } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { Span } from '#grammar/tree';
import type { ResolvedAppliance } from '#model/resolved';
import type { Settings } from '../settings';
import type { Reading } from './reading';

/** One at the wire's line, and one at each step of the path from which on it is another. */
export function wireReadings({ node, design, steps }: ResolvedAppliance, settings: Settings): Reading[] {
  const wire = node.members.find((member) => member.kind === 'wire');
  if (wire === undefined || design === undefined) return [];
  const reading = (span: Span, stock: Stock): Reading => ({
    ...{ span, line: 'last', kind: 'lengths', stale: false },
    text: undefined,
    detail: sectionTable(stock, settings),
  });
  const changes = steps.flatMap(({ kind, span, elements: [first] }): Reading[] => {
    const stock = kind === 'section' ? design.elements[first]?.stock : undefined;
    return stock === undefined ? [] : [reading(span, stock)];
  });
  return [reading(wire.span, { section: design.section, alloy: design.alloy, count: 1 }), ...changes];
}

/** Moments of inertia, stiffness and yield moment; of all wires together where several lie side by side. */
function sectionTable({ section, alloy, count }: Stock, { units }: Settings): string {
  const own = sectionProperties(section);
  const { EIside, EIup, GJ } = stiffness(section, alloy);
  const write = (value: number, dimension: Dimension) => formatQuantity({ value, dimension }, units);
  const bending = (name: string, inertia: number, rigidity: number, modulus: number) => [
    name,
    write(count * inertia, INERTIA),
    write(count * rigidity, RIGIDITY),
    write(count * alloy.yield * modulus, MOMENT),
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
    [
      'twisting (third order)',
      `J ${write(count * own.torsionConstant, INERTIA)}`,
      `G J ${write(count * GJ, RIGIDITY)}`,
      '',
    ],
  ].map((cells) => `| ${cells.join(' | ')} |`);
  const edges =
    section.kind === 'rectangle' && section.cornerRadius > 0
      ? `, edges rounded to ${write(section.cornerRadius, LENGTH)}`
      : '';
  const each = count === 1 ? 'Section' : `${count} wires side by side, each with a section`;
  return [`${each} of ${write(own.area, power(LENGTH, 2))}${edges}:`, '', ...table].join('\n');
}

const INERTIA = power(LENGTH, 4);
const RIGIDITY = multiply(MOMENT, LENGTH);
