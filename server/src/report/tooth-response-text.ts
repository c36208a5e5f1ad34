/** Groups of teeth and visits as aligned text. */
import { FORCE, MOMENT, STRESS } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import { UNITS } from '#core/units/unit';
import type { Paint } from './paint';
import { amount, degrees, percent } from './quantities';
import { table } from './table';
import type { ReportToothGroup, ReportVisits } from './tooth-response-schema';

export const responseCaution =
  'How teeth move is an estimate with stated assumptions: centres of resistance, roots and rates differ from person to person. What is found at the visit decides.';

export function groupLines(groups: readonly ReportToothGroup[] | undefined, units: UnitPreferences): string[] {
  if (!groups || groups.length === 0) return [];
  return groups.flatMap((group) => [
    '',
    `  ${group.name}${group.teeth.length > 0 ? `, teeth ${group.teeth.join(', ')}` : ''}${group.bothSides ? ', tied to the other side' : ''}, at its centre of resistance`,
    ...table(groupRows(group, units), ['<', '<'], '    '),
  ]);
}

export function groupRows(group: ReportToothGroup, units: UnitPreferences): readonly (readonly [string, string])[] {
  const { force, moment, along, across, resistance, rootPressure, closureShare, reinforced } = group;
  const rows: [string, string][] = [
    [
      'centre of resistance',
      `${amount(resistance.gingival, 'length')} gingival, ${signed(resistance.mesial, 'mesial', 'distal')}, ${signed(resistance.buccal, 'buccal', 'lingual')} of ${group.attachments[0]} (${resistance.known})`,
    ],
  ];
  if (force && moment) {
    const pull = (value: number) => formatQuantity({ value: Math.abs(value), dimension: FORCE }, units);
    const turn = (value: number) => formatQuantity({ value: Math.abs(value), dimension: MOMENT }, units);
    rows.push([
      'force',
      [
        `${pull(force.mesial)} ${force.mesial < 0 ? 'distal' : 'mesial'}`,
        `${pull(force.gingival)} ${force.gingival < 0 ? 'occlusal' : 'gingival'}`,
        `${pull(force.buccal)} ${force.buccal < 0 ? 'lingual' : 'buccal'}`,
      ].join(', '),
    ]);
    rows.push([
      'moment',
      [
        `${turn(moment.buccal)} ${moment.buccal < 0 ? 'crown-distal' : 'crown-mesial'}`,
        `${turn(moment.gingival)} ${moment.gingival < 0 ? 'mesial-out' : 'mesial-in'}`,
        `${turn(moment.mesial)} ${moment.mesial < 0 ? 'crown-buccal' : 'crown-lingual'}`,
      ].join(', '),
    ]);
  }
  for (const [name, movement] of [
    ['along the arch', along],
    ['across the arch', across],
  ] as const) {
    if (movement) rows.push([name, `${movement.words}${rotationText(movement)}`]);
  }
  const pressure =
    rootPressure === null
      ? []
      : [
          `roots bear ${formatQuantity({ value: rootPressure * (UNITS.get('kPa')?.factor ?? 0), dimension: STRESS })} on the mean`,
        ];
  const share =
    closureShare === null
      ? []
      : [
          `${percent(closureShare)} of a closure by root surface alone${reinforced ? `, ${percent(reinforced.closureShare)} with tooth ${reinforced.tooth} tied in` : ''}`,
        ];
  if (pressure.length + share.length > 0) rows.push(['anchorage', [...pressure, ...share].join('; ')]);
  return rows;
}

export function visitLines(visits: ReportVisits | undefined, units: UnitPreferences, paint: Paint): string[] {
  if (!visits) return [];
  if (visits.status !== 'followed') return ['', '  visits: not followed, see above'];
  const rows = visitRowsOf(visits, units);
  return [
    '',
    `  visits every ${bare(visits.everyWeeks)} weeks`,
    ...table(
      rows,
      rows[0].map((_, k) => (k === rows[0].length - 1 ? '<' : '>')),
      '    ',
    ).map((line, index) => (index === 0 ? paint.quiet(line) : line)),
    '',
    '  at the end',
    ...table(courseRows(visits), ['<', '>', '>', '>', '<'], '    ').map((line, index) =>
      index === 0 ? paint.quiet(line) : line,
    ),
    '',
    `  ${responseCaution}`,
  ];
}

/** Headings, then a row for each visit. */
export function visitRowsOf({ visits, close }: ReportVisits, units: UnitPreferences): readonly (readonly string[])[] {
  const [first] = visits;
  const change = (visit: ReportVisits['visits'][number], of: (reading: typeof visit.found) => string) =>
    visit.done === 'reactivated' ? `${of(visit.found)} → ${of(visit.left)}` : of(visit.left);
  return [
    [
      'week',
      ...(close ? ['closed'] : []),
      ...(first?.left.loops ?? []).map(({ name }) => `${name} leg gap`),
      ...(first?.left.groups ?? []).flatMap(({ name }) => [`on ${name}`, 'line of action']),
      'what is done',
    ],
    ...visits.map((visit) => [
      bare(Math.round(visit.week)),
      ...(close ? [tenths(visit.found.closed)] : []),
      ...visit.left.loops.map((_, k) => change(visit, ({ loops }) => tenths(loops[k].legGap))),
      ...visit.left.groups.flatMap((_, k) => [
        change(visit, ({ groups }) => pullText(groups[k].force.mesial, units)),
        change(visit, ({ groups }) => lineText(groups[k].lineOfAction)),
      ]),
      doneText(visit),
    ]),
  ];
}

/** Headings, then a row for each course and group. */
export function courseRows({ courses }: ReportVisits): readonly (readonly string[])[] {
  const names = { usual: 'usual', slow: 'slower', fast: 'faster', friction: 'with friction' };
  return [
    ['rate', 'weeks', 'reactivations', 'group', 'how far it has come'],
    ...courses.flatMap(({ rate, millimetresPerMonth, weeks, reactivations, end, groups }) =>
      groups.map(({ name, moved, crownMoved, turned }, k) => [
        k === 0 ? `${names[rate]}, ${bare(millimetresPerMonth)} mm/month` : '',
        k === 0 ? `${bare(Math.round(weeks))}${end === 'closed' ? '' : ` (${endWords[end]})`}` : '',
        k === 0 ? bare(reactivations) : '',
        name,
        `crown ${about(crownMoved.mesial, 'mesial', 'distal')}, centre of resistance ${about(moved.mesial, 'mesial', 'distal')} and ${about(moved.gingival, 'gingival (intruded)', 'occlusal (extruded)')}, tipped ${degrees(Math.round(Math.abs(turned.tip)))} crown-${turned.tip < 0 ? 'distal' : 'mesial'}`,
      ]),
    ),
  ];
}

const endWords: Readonly<Record<ReportVisits['courses'][number]['end'], string>> = {
  closed: 'closed',
  'time-is-up': 'time is up',
  'not-reactivated': 'no more wire to draw',
  'too-fast': 'not followed further',
  'no-equilibrium': 'not followed further',
};

export function doneText({ done, found, left }: ReportVisits['visits'][number]): string {
  switch (done) {
    case 'engaged':
      return 'engage';
    case 'activated':
      return `engage and activate by ${tenths(left.activation)}`;
    case 'reactivated':
      return `draw ${tenths(left.motion - found.motion)} of wire: ${tenths(left.activation)} of activation`;
    case 'left':
      return 'leave as it is';
    case 'ended':
      return 'end';
  }
}

function pullText(mesial: number, units: UnitPreferences): string {
  return `${formatQuantity({ value: Math.abs(mesial), dimension: FORCE }, units)} ${mesial < 0 ? 'distal' : 'mesial'}`;
}

function lineText(line: number | null): string {
  return line === null ? '–' : about(line, 'occlusal', 'apical');
}

/** To the tenth that can be read in a mouth; more would be false precision. */
function tenths(value: number): string {
  return amount(Math.round(value * 10) / 10 || 0, 'length');
}

function about(value: number, positive: string, negative: string): string {
  return `${tenths(Math.abs(value))} ${value < 0 ? negative : positive}`;
}

function signed(value: number, positive: string, negative: string): string {
  return `${amount(Math.abs(value), 'length')} ${value < 0 ? negative : positive}`;
}

function rotationText({ rotationCentre, rotationRange }: NonNullable<ReportToothGroup['along']>): string {
  if (rotationCentre === null || rotationRange === null) return '';
  const side = rotationCentre > 0 ? 'apical' : 'occlusal';
  const range = rotationRange.map((one) => amount(Math.abs(one), 'length')).join(' to ');
  return `; turns about ${amount(Math.abs(rotationCentre), 'length')} ${side} of it (${range})`;
}

function bare(value: number): string {
  return formatQuantity({ value, dimension: { length: 0, force: 0, time: 0, angle: 0 } });
}
