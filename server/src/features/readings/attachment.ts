/** Readings at an attachment: what the wire does to the tooth at the working activation. */
import type { EngagedState, Wrench } from '#core/analysis/analysis';
import { stateBeside } from '#core/analysis/several-wires';
import type { ApplianceDesign, Attachment } from '#core/design';
import { slotPlay } from '#core/material/slot-play';
import { ANGLE, FORCE, LENGTH, MOMENT } from '#core/units/dimension';
import { formatBand, formatQuantity } from '#core/units/format';
import type { Quantity } from '#core/units/quantity';
import type { Bands } from '#model/bands';
import { frictionBand, slidThrough, touchPhrase, turnsInSlot } from '#model/contacts';
import { type Effect, effects } from '#model/effects';
import { outerSection, stockAt } from '#model/stock';
import { toothPhrase } from '#model/teeth';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';
import { bandOfEffect, causes } from './bands';
import { type Reading, workingState } from './reading';

export function attachmentReadings(evaluated: SnapshotAppliance, { units }: Settings): Reading[] {
  const state = workingState(evaluated);
  if (state === undefined || evaluated.design === undefined) return [];
  const { attachments } = evaluated.design;
  return evaluated.appliance.attachments.flatMap(({ name, node }): Reading[] => {
    const index = attachments.findIndex((attachment) => attachment.name === name);
    const wrench = state.wrenches[index];
    if (wrench === undefined || evaluated.design === undefined) return [];
    const play = clearance(attachments[index], evaluated.design);
    const here = { span: node.span, line: 'last', stale: evaluated.stale } as const;
    return [
      {
        ...{ ...here, kind: 'forces', text: summary(wrench, 'force', 2, units) },
        detail: [
          forceSystemHeading(name, state.activation, evaluated),
          forceSystemTable(wrench, units, evaluated.bands, index, state.friction),
          state.friction?.[index] &&
            'Where it says so, friction lets the component be anywhere between the two figures.',
          ...shares(name, state, evaluated, units),
          bandNote(evaluated.bands, wrench, index),
          slidText(state, evaluated.design, index),
          inSlotText(state, index),
          play,
        ]
          .filter((block) => block !== undefined)
          .join('\n\n'),
      },
      { ...here, kind: 'moments', text: summary(wrench, 'moment', 1, units), detail: '' },
    ];
  });
}

/** How far the slot lets the wire turn; without `with play` the computation holds it without play. */
function clearance(attachment: Attachment, design: ApplianceDesign): string | undefined {
  const play = slotPlay(attachment, outerSection(stockAt(design, attachment.station)));
  if (play === undefined) return undefined;
  const deg = (value: number): string => formatQuantity({ value, dimension: ANGLE });
  const turns = play.thirdOrder === 'free' ? 'turns freely' : `turns ${deg(play.thirdOrder)}`;
  const tips = play.secondOrder === undefined ? '' : ` and tips ${deg(play.secondOrder)} (second order)`;
  const left = attachment.play ? '' : ', which the computation leaves out';
  return `**Play**${left}: in this slot the wire ${turns} (third order)${tips} either way before it touches.`;
}

function slidText(state: EngagedState, design: ApplianceDesign, index: number): string | undefined {
  const slid = slidThrough(state, design, index);
  if (slid === undefined) return undefined;
  const length = formatQuantity({ value: Math.abs(slid), dimension: LENGTH });
  return `**Slid**: ${length} of wire has slid through it toward the wire's ${slid > 0 ? 'end' : 'start'}.`;
}

/** On which sides the wire touches its slot, and how much of a bend and a twist is eaten by play. */
function inSlotText({ seated }: EngagedState, index: number): string | undefined {
  const own = seated[index];
  if (!own) return undefined;
  const turns = turnsInSlot(own).map(
    ({ name, order, angle }) => `${formatQuantity({ value: angle, dimension: ANGLE })} of ${name} (${order})`,
  );
  return `**In its slot** the wire touches ${touchPhrase(own)}. Play takes ${turns.join(', ')}.`;
}

/** What the auxiliary wires that hold the tooth too have in it. */
function shares(
  name: string,
  { motion }: EngagedState,
  { further }: SnapshotAppliance,
  units: Settings['units'],
): string[] {
  return further.flatMap((wire) => {
    const share = stateBeside(wire, motion)?.wrenches[wire.design.attachments.findIndex((one) => one.name === name)];
    if (share === undefined) return [];
    const parts = [summary(share, 'force', 3, units), summary(share, 'moment', 3, units)].filter(
      (part) => part !== undefined,
    );
    return [`**Share of \`${wire.name}\`**, at the centre of its own slot: ${parts.join(' · ') || 'nothing'}.`];
  });
}

/** e.g. "Of the wire on molar at 1.5 mm from neutral". */
function forceSystemHeading(
  name: string,
  activation: number,
  { design, appliance, further }: SnapshotAppliance,
): string {
  const at =
    design?.activation === undefined
      ? 'when engaged'
      : `at ${formatQuantity({ value: activation, dimension: LENGTH })} from neutral`;
  const tooth = appliance.teeth.get(name);
  const which = tooth === undefined ? '' : ` (tooth ${tooth.number}, ${toothPhrase(tooth)})`;
  const isShared = further.some((wire) => wire.design.attachments.some((one) => one.name === name));
  return `**Of ${isShared ? 'all wires' : 'the wire'} on the tooth** at \`${name}\`${which}, ${at}, at the slot's centre:`;
}

/** All six components as a Markdown table, with their bands where there are any. */
function forceSystemTable(
  wrench: Wrench,
  units: Settings['units'],
  bands: Bands | undefined,
  index: number,
  friction: EngagedState['friction'],
): string {
  const rows = effects(wrench).map((effect) => {
    const band = bandOfEffect(bands, index, effect);
    const size = band === undefined ? amount(effect, units) : formatBand(quantityOf(effect), band, units);
    const bounds = frictionBand(friction, index, effect);
    const [low, high] = [bounds?.low ?? 0, bounds?.high ?? 0].map((value) =>
      formatQuantity({ ...quantityOf(effect), value }, units),
    );
    const words = bounds === undefined ? effect.words : `${effect.words}; with friction ${low} .. ${high}`;
    return `| ${effect.kind} | ${spoken(effect)} | ${size} | ${words} |`;
  });
  return ['| | | | |', '| --- | --- | ---: | --- |', ...rows].join('\n');
}

/** What makes most of the band of the largest force and of the largest moment. */
function bandNote(bands: Bands | undefined, wrench: Wrench, index: number): string | undefined {
  if (bands === undefined) return undefined;
  const lines = (['force', 'moment'] as const).flatMap((kind) => {
    const own = effects(wrench).filter((effect) => effect.kind === kind);
    const largest = own.reduce((most, one) => (one.amount > most.amount ? one : most));
    const band = bandOfEffect(bands, index, largest);
    const text = band === undefined ? '' : causes(band, bands);
    return text === '' ? [] : [`- ${spoken(largest)}: ${text}`];
  });
  return ['In brackets: where about 19 of 20 wires lie.', ...lines].join('\n');
}

/** Components below this part of the largest of their kind are left to the tooltip. */
const worthSaying = 0.05;

/** The largest components in trade words, e.g. "124 gf distal · 38 gf gingival (intrudes)". */
function summary(wrench: Wrench, kind: Effect['kind'], most: number, units: Settings['units']): string | undefined {
  const own = effects(wrench).filter((effect) => effect.kind === kind);
  const largest = Math.max(...own.map(({ amount }) => amount));
  // Below what a gauge could show there is nothing to say.
  if (largest < (kind === 'force' ? 0.001 : 0.01)) return undefined;
  return own
    .filter((effect) => effect.amount >= worthSaying * largest)
    .sort((left, right) => right.amount - left.amount)
    .slice(0, most)
    .sort((left, right) => left.axis - right.axis)
    .map((effect) => `${amount(effect, units)} ${spoken(effect)}${vertical(effect)}`)
    .join(' · ');
}

/** The one pair of directions that everybody calls by what it does. */
function vertical({ kind, axis, words }: Effect): string {
  return kind === 'force' && axis === 1 ? ` (${words})` : '';
}

function spoken({ name }: Effect): string {
  return name.replace('_', '-');
}

function amount(effect: Effect, units: Settings['units']): string {
  return formatQuantity(quantityOf(effect), units);
}

function quantityOf({ amount, kind }: Effect): Quantity {
  return { value: amount, dimension: kind === 'force' ? FORCE : MOMENT };
}
