/** Readings at a group of teeth: what the wire does to it at its centre of resistance at the working activation. */
import { imbalance } from '#core/response/tooth-group';
import { FORCE, LENGTH, MOMENT, STRESS } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { type Reinforced, reinforced } from '#model/anchorage';
import { effects } from '#model/effects';
import { type GroupFigures, groupFigures, type PlaneFigures } from '#model/tooth-movement';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';
import { type Reading, workingState } from './reading';

export function groupReadings(evaluated: SnapshotAppliance, { units }: Settings): Reading[] {
  const { appliance, design, stale } = evaluated;
  const state = workingState(evaluated);
  if (state === undefined || design === undefined) return [];
  return groupFigures(design, state).flatMap((figures, index): Reading[] => {
    const described = appliance.groups.find(({ name }) => name === figures.group.name);
    if (described === undefined) return [];
    const at =
      design.activation === undefined
        ? 'when engaged'
        : `at ${formatQuantity({ value: state.activation, dimension: LENGTH })} from neutral`;
    const numbers = described.teeth.map(({ number }) => number).join(', ');
    const { force, moment } = imbalance(design, state);
    const shown = (value: number, dimension: typeof FORCE) => formatQuantity({ value, dimension }, units);
    return [
      {
        ...{ span: described.node.span, line: 'last', kind: 'groups', stale },
        text: shortMovement(figures),
        detail: [
          `**Of the wire on \`${figures.group.name}\`**${numbers === '' ? '' : ` (teeth ${numbers})`}, ${at}, at its centre of resistance${described.resistance === 'estimated' ? ', which is estimated from the tooth data' : ''}:`,
          forceSystem(figures, units),
          ...movementLines(figures),
          ...anchorageLines(figures, reinforced(appliance, index)),
          figures.group.bothSides
            ? 'Tied to the other side, on which the mirror image of the wire acts: what the two sides undo in each other is left out.'
            : undefined,
          `The forces on all teeth together leave ${shown(force, FORCE)} and ${shown(moment, MOMENT)} over.`,
          'An estimate: the place of the centre of resistance varies with roots, bone and the direction of the load.',
        ]
          .filter((block) => block !== undefined)
          .join('\n\n'),
      },
    ];
  });
}

/** "38 %" */
function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

/** For the line's end: the movement along the arch without its distance. */
function shortMovement({ along, across }: GroupFigures): string | undefined {
  const figures = along ?? across;
  return figures?.words.split(';')[0];
}

function forceSystem({ wrench }: GroupFigures, units: Settings['units']): string {
  const rows = effects(wrench).map(({ kind, name, amount, words }) => {
    const size = formatQuantity({ value: amount, dimension: kind === 'force' ? FORCE : MOMENT }, units);
    return `| ${kind} | ${name.replace('_', '-')} | ${size} | ${words} |`;
  });
  return ['| | | | |', '| --- | --- | ---: | --- |', ...rows].join('\n');
}

function movementLines({ along, across }: GroupFigures): string[] {
  return [
    ...(along ? [`**Along the arch** it ${along.words}.${rotationText(along)}`] : []),
    ...(across ? [`**Across the arch** it ${across.words}.${rotationText(across)}`] : []),
  ];
}

function rotationText({ rotationCentre, rotationRange }: PlaneFigures): string {
  if (rotationCentre === undefined || rotationRange === undefined) return '';
  const side = rotationCentre > 0 ? 'apical' : 'occlusal';
  const [value, low, high] = [rotationCentre, ...rotationRange].map((one) =>
    formatQuantity({ value: Math.abs(one), dimension: LENGTH }),
  );
  return ` It turns about a point ${value} ${side} of the centre of resistance (${[low, high].join(' to ')}, by the form of the roots).`;
}

function anchorageLines({ rootPressure, closureShare }: GroupFigures, more: Reinforced | undefined): string[] {
  const pressure =
    rootPressure === undefined
      ? []
      : [`its roots bear ${formatQuantity({ value: rootPressure, dimension: STRESS })} on the mean`];
  const share =
    closureShare === undefined
      ? []
      : [
          `by the surfaces of the roots it makes up ${percent(closureShare)} of a closure between the two groups${more ? `, with tooth ${more.tooth.number} tied in ${percent(more.share)}` : ''}`,
          'a lower pull, or a moment that keeps it from tipping, holds it too',
        ];
  const text = [...pressure, ...share].join('; ');
  return text === '' ? [] : [`**Anchorage**: ${text}.`];
}
