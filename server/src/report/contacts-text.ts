/** Lines on wire that has slid, on how it lies in slots with play, and on what pulls. */
import type { SeatedWithPlay } from '#core/analysis/analysis';
import { formatBand, type UnitPreferences } from '#core/units/format';
import { frictionBand, touchPhrase } from '#model/contacts';
import type { Effect } from '#model/effects';
import { amount, bareAmount, degrees, dimensions, unitOf } from './quantities';
import type { ReportAppliance, ReportStage, ReportState } from './schema';
import { table } from './table';

type ReportLoad = ReportState['loads'][number];

export function contactLines({ loads, pulls = [] }: ReportState, units: UnitPreferences): string[] {
  const rows = [
    ...loads.flatMap(({ attachment, slid, inSlot }) => [
      ...(slid === undefined ? [] : [[attachment, slidText(slid)]]),
      ...(inSlot === undefined ? [] : [[attachment, inSlotText(inSlot)]]),
    ]),
    ...pulls.map(({ name, force, length }) => [name, pullText(force, length, units)]),
  ];
  return rows.length === 0
    ? []
    : ['', '  Where the wire slides, has play, and is pulled', ...table(rows, ['<', '<'], '    ')];
}

/** One row per stage of what changes with the activation: wire slid through each attachment, and each pull. */
export function contactTable({ stages }: ReportAppliance, units: UnitPreferences): string[] {
  const solved = stages.flatMap(({ activation, state }) => (state === null ? [] : [{ activation, state }]));
  if (solved.length < 2) return [];
  const attachments = solved[0].state.loads
    .map(({ attachment }, index) => ({ attachment, index }))
    .filter(({ index }) => solved.some(({ state }) => state.loads[index].slid !== undefined));
  const pulls = solved[0].state.pulls ?? [];
  if (attachments.length + pulls.length === 0) return [];
  const headings = [
    'activation',
    ...attachments.map(({ attachment }) => `slid at ${attachment}, ${unitOf('length')}`),
    ...pulls.map(({ name }) => `${name}, ${unitOf('force', units)}`),
  ];
  const body = solved.map(({ activation, state }) => [
    amount(activation, 'length'),
    ...attachments.map(({ index }) => bareAmount(state.loads[index].slid ?? 0, 'length')),
    ...pulls.map((_, index) => bareAmount(state.pulls?.[index].force ?? 0, 'force', units)),
  ]);
  return [
    '',
    '  sliding and pulls',
    ...table(
      [headings, ...body],
      headings.map(() => '>' as const),
      '    ',
    ),
  ];
}

/** A component with the band that friction leaves it, where it leaves one. */
export function effectText({ friction }: ReportLoad, effect: Effect, units: UnitPreferences): string {
  const band = friction && frictionBand([{ least: wrench(friction.least), most: wrench(friction.most) }], 0, effect);
  if (!band) return amount(effect.amount, effect.kind, units);
  return formatBand({ value: effect.amount, dimension: dimensions[effect.kind] }, band, units);
}

export function hasFriction(stage: ReportStage): boolean {
  return stage.state?.loads.some(({ friction }) => friction !== undefined) ?? false;
}

function slidText(slid: number): string {
  return `${amount(Math.abs(slid), 'length')} of wire has slid through it toward the wire's ${slid > 0 ? 'end' : 'start'}`;
}

function inSlotText({ tip, rotation, torque, touching }: NonNullable<ReportLoad['inSlot']>): string {
  const turn = [torque, rotation, tip].map((angle) => (angle * Math.PI) / 180) as [number, number, number];
  const seated: SeatedWithPlay = { turn, touching };
  return `touches ${touchPhrase(seated)}; play takes ${degrees(tip)} of tip, ${degrees(rotation)} of rotation, ${degrees(torque)} of torque`;
}

function pullText(force: number, length: number, units: UnitPreferences): string {
  const over = `over ${amount(length, 'length')}`;
  if (force === 0) return `slack ${over}`;
  return `${force > 0 ? 'pulls' : 'pushes'} ${amount(Math.abs(force), 'force', units)} ${over}`;
}

function wrench({ force, moment }: NonNullable<ReportLoad['friction']>['least']) {
  return {
    force: [force.mesial, force.gingival, force.buccal],
    moment: [moment.mesial, moment.gingival, moment.buccal],
  } as const;
}
