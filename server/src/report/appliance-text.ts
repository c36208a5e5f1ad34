/** What one appliance is and does, as aligned tables in trade terms. */
import { FORCE, STRESS } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import { effects } from '#model/effects';
import { toothOf, toothPhrase } from '#model/teeth';
import { assumptionLines } from './assumptions';
import { bandLines } from './bands-text';
import { planLines } from './bending-plan-text';
import { bendLines } from './bends';
import { contactLines, contactTable, effectText, hasFriction } from './contacts-text';
import type { Paint } from './paint';
import { amount, bareAmount, degrees, percent, unitOf } from './quantities';
import type { ReportAppliance, ReportStage, ReportState } from './schema';
import { table } from './table';
import { groupLines, visitLines } from './tooth-response-text';

interface Options {
  readonly units: UnitPreferences;
  readonly paint: Paint;
}

export function applianceText(appliance: ReportAppliance, { units, paint }: Options): readonly string[] {
  if (appliance.wire === null) return ['  Something that the wire needs is missing or wrong; see the errors above.'];
  const states = appliance.stages.map(({ state }) => state).filter((state) => state !== null);
  const working = workingStage(appliance);
  return [
    ...table(wireFacts(appliance, units), ['<', '<'], '  '),
    ...(appliance.status === 'converged' ? [] : [`  No force system: ${statusWords[appliance.status]}.`]),
    ...(working?.state ? ['', ...workingLines(appliance, working, working.state, units)] : []),
    ...groupLines(appliance.groups, units),
    ...bandLines(appliance, units),
    ...appliance.attachments.flatMap(({ name, fitting }, index) =>
      states.length < 2 ? [] : ['', `  ${name} (${fitting})`, ...loadTable(appliance, index, units, paint)],
    ),
    ...contactTable(appliance, units),
    ...(states.length < 2 ? [] : ['', '  wire', ...wireTable(appliance, paint)]),
    ...visitLines(appliance.visits, units, paint),
    ...bendLines(appliance.bends),
    ...planLines(appliance.plan, paint),
    ...assumptionLines(appliance.assumptions),
    ...cautions(appliance, paint),
  ];
}

/** Why there is no state, in words that follow a colon. */
const statusWords: Record<ReportStage['status'], string> = {
  converged: 'solved',
  'no-wire': 'there is no wire',
  'not-held': 'the wire is not held firmly enough',
  'activation-not-computed': 'the wire is pulled through a hook or an eyelet',
  'further-wire': 'an auxiliary wire that holds the same teeth has none',
  'too-many-attachments': 'there are more attachments than the solver takes',
  'span-exceeds-wire': 'the distance to be spanned is longer than the wire',
  'bend-in-slot': 'a bend lies in, or is drawn into, an attachment',
  'wire-end': "the wire's end is drawn into an attachment",
  'no-neutral': 'no neutral position within reach',
  snaps: 'the wire snaps to another shape',
  'not-converged': 'no equilibrium found',
};

/** What it is made of and where it stands, each with its heading. */
export function wireFacts(appliance: ReportAppliance, units: UnitPreferences): readonly (readonly [string, string])[] {
  const { wire, developedLength, cutLength, neutral, activation } = appliance;
  const lines: [string, string][] = [];
  const { site } = appliance;
  if (site.kind === 'arch') lines.push(['sits', `in the ${site.arch} arch`]);
  else if (site.arch !== 'upper' || site.side !== 'right') lines.push(['sits', `on the ${site.arch} ${site.side}`]);
  if (wire !== null) lines.push(['wire', `${sectionText(wire.section)} of ${wire.alloy}`]);
  for (const { from, section, alloy, sideBySide } of appliance.stretches?.slice(1) ?? []) {
    const doubled = sideBySide === 1 ? '' : `, ${sideBySide} side by side`;
    lines.push([`from ${amount(from, 'length')}`, `${sectionText(section)} of ${alloy}${doubled}`]);
  }
  const all = appliance.auxiliaries.length > 1 ? 'all wires' : 'both wires';
  for (const { name, shares } of appliance.auxiliaries) {
    const counted =
      shares.length > 0 ? `on ${shares.join(', ')}, where the figures are of ${all}` : 'on no tooth of this wire';
    lines.push(['auxiliary wire', `${name}, ${counted}`]);
  }
  const { gauge } = appliance;
  if (gauge !== null) {
    const [read, computed] = [gauge.force, gauge.computed].map((force) =>
      formatQuantity({ value: force, dimension: FORCE }, units),
    );
    const [modulus, stated] = [gauge.modulus, gauge.statedModulus].map((value) =>
      formatQuantity({ value, dimension: STRESS }),
    );
    lines.push([
      'gauge',
      `${read} at ${amount(gauge.activation, 'length')}, so that the modulus is ${modulus}; with the ${stated} that the alloy states it would be ${computed}`,
    ]);
  }
  if (developedLength !== null) lines.push(['developed length', amount(developedLength, 'length')]);
  if (cutLength !== null) {
    lines.push([
      'cut length',
      `${amount(cutLength.length, 'length')}, with ${amount(cutLength.allowancePerEnd, 'length')} at each end to hold it by (common practice)`,
    ]);
  }
  for (const { name, tooth } of appliance.attachments) {
    const known = tooth === null ? undefined : toothOf(String(tooth));
    if (known && name !== `tooth_${known.number}`)
      lines.push([name, `on tooth ${known.number}, ${toothPhrase(known)}`]);
  }
  for (const { name, play, withPlay } of appliance.attachments) {
    if (play !== null) lines.push([`${name} play`, playText(play, withPlay === true)]);
  }
  if (activation !== null) lines.push(['activation', activationText(activation)]);
  if (activation !== null && neutral !== null)
    lines.push(['neutral', `at ${amount(neutral.motion, 'length')} of that motion`]);
  if (appliance.firstYield !== null)
    lines.push(['first yield', `at ${amount(appliance.firstYield, 'length')} of activation`]);
  lines.push(...yieldingLines(appliance));
  for (const { loop, activation: parallel } of appliance.parallelLegs) {
    if (parallel !== null) lines.push([`${loop} legs`, `parallel at ${amount(parallel, 'length')} of activation`]);
  }
  return lines;
}

/** What a trial activation did, or would do, to a wire that yields. */
function yieldingLines({ yielding, activation }: ReportAppliance): [string, string][] {
  if (!yielding?.trial) return [];
  const { first, trial, stages } = yielding;
  const done = stages === 'after-trial';
  const pulled = activation === null ? 'taken out again' : `pulled to ${amount(trial.amount, 'length')} and let go`;
  const moved =
    activation === null
      ? ''
      : `, neutral from ${amount(first.neutral.motion, 'length')} to ${amount(trial.neutral.motion, 'length')}`;
  const room = trial.largestWithoutSet;
  return [
    [done ? 'trial activation' : 'if tried out', `${pulled}: set of ${degrees(trial.setTurn)}${moved}`],
    ...trial.loops.map((loop, index): [string, string] => [
      `${loop.name} then`,
      `free with a leg gap of ${gapText(loop.legGap)}, ${gapText(first.loops[index].legGap)} as bent; at neutral ${gapText(trial.neutral.loops[index].legGap)}, legs at ${degrees(trial.neutral.loops[index].legAngle)}`,
    ]),
    ...(room === null
      ? []
      : [['no further set', `up to ${amount(room, 'length')} of activation after it`] as [string, string]]),
  ];
}

/** What the slot leaves to the wire, either way. */
function playText(
  { thirdOrder, secondOrder }: NonNullable<ReportAppliance['attachments'][number]['play']>,
  isComputed: boolean,
): string {
  const turns = thirdOrder === 'free' ? 'turns freely' : `turns ${degrees(thirdOrder)}`;
  const tips = secondOrder === null ? '' : `, tips ${degrees(secondOrder)}`;
  return `${turns}${tips} either way before it touches${isComputed ? '' : '; not computed'}`;
}

export function sectionText(section: NonNullable<ReportAppliance['wire']>['section']): string {
  const inches = (value: number) => (value / 25.4).toFixed(4).replace(/0$/, '');
  return section.kind === 'round'
    ? `round ${amount(section.diameter, 'length')} (${inches(section.diameter)} in)`
    : `${amount(section.height, 'length')} × ${amount(section.width, 'length')} (${inches(section.height)} × ${inches(section.width)} in)${edges(section.cornerRadius)}`;
}

function edges(cornerRadius: number): string {
  return cornerRadius > 0 ? `, edges ${amount(cornerRadius, 'length')},` : '';
}

/** "pull through molar" */
export function activationText({ kind, attachment, direction }: NonNullable<ReportAppliance['activation']>): string {
  if (direction === null) return `pull through ${attachment}`;
  if (kind === 'pull') return `pull through ${attachment} ${direction.mesial > 0 ? 'mesially' : 'distally'}`;
  const parts = [
    [direction.mesial, 'mesially', 'distally'],
    [direction.gingival, 'gingivally', 'occlusally'],
    [direction.buccal, 'buccally', 'lingually'],
  ] as const;
  const ways = parts.filter(([part]) => Math.abs(part) > 1e-6).map(([part, plus, minus]) => (part > 0 ? plus : minus));
  return `move ${attachment} ${ways.join(' and ')}`;
}

/** The stage nearest to the working activation among those that were solved. */
function workingStage({ stages, workingActivation }: ReportAppliance): ReportStage | undefined {
  const solved = stages.filter(({ state }) => state !== null);
  const wanted = workingActivation ?? solved[solved.length - 1]?.activation ?? 0;
  return [...solved].sort((a, b) => Math.abs(a.activation - wanted) - Math.abs(b.activation - wanted))[0];
}

/** The force system in words, in both unit systems. */
function workingLines(
  appliance: ReportAppliance,
  stage: ReportStage,
  state: ReportState,
  units: UnitPreferences,
): string[] {
  const other: UnitPreferences = { force: units.force === 'gf' ? 'N' : 'gf' };
  const rows = state.loads.flatMap((load) => {
    const acting = effects(wrenchOf(load)).filter(({ kind, amount: size }) => size > leastShown[kind]);
    return acting.map((effect, index) => [
      index === 0 ? load.attachment : '',
      effect.words,
      effectText(load, effect, units),
      effectText(load, effect, other),
    ]);
  });
  const heading = appliance.activation === null ? 'Engaged' : `At ${amount(stage.activation, 'length')} of activation`;
  const bounded = hasFriction(stage) ? ' (in brackets: between which friction lets it be)' : '';
  return [
    `  ${heading}, the wire on the tooth${bounded}`,
    ...table(rows, ['<', '<', '>', '>'], '    '),
    ...contactLines(state, units),
  ];
}

/** What is left out of the words as nothing: N and N mm, below what a gauge shows. */
const leastShown = { force: 0.005, moment: 0.05 } as const;

export function wrenchOf({ force, moment }: ReportState['loads'][number]) {
  return {
    force: [force.mesial, force.gingival, force.buccal],
    moment: [moment.mesial, moment.gingival, moment.buccal],
  } as const;
}

/** Headings, then a row for each stage; columns carry the sense that the largest value has, so that most numbers are positive. */
export function stageLoads(
  appliance: ReportAppliance,
  attachment: number,
  units: UnitPreferences,
): readonly (readonly string[])[] {
  const rows = appliance.stages.map((stage) => ({ stage, load: stage.state?.loads[attachment] }));
  const columns = [0, 1, 2, 3, 4, 5]
    .map((component) => {
      const all = rows.flatMap(({ load }) => (load === undefined ? [] : [effects(wrenchOf(load))[component]]));
      return all.reduce((largest, effect) => (effect.amount > largest.amount ? effect : largest));
    })
    .filter(({ kind, amount: size }) => size > leastShown[kind]);
  const headings = [
    'activation',
    ...columns.map(({ kind, name }) => `${name.replace('_', '-')}, ${unitOf(kind, units)}`),
    'moment/force, mm',
  ];
  const body = rows.map(({ stage, load }) => [
    amount(stage.activation, 'length'),
    ...(load === undefined
      ? [statusWords[stage.status]]
      : [
          ...columns.map(({ kind, name }) => bareAmount((load[kind] as Record<string, number>)[name], kind, units)),
          load.momentToForce === null ? '–' : bareAmount(load.momentToForce, 'length'),
        ]),
  ]);
  return [headings, ...body];
}

function loadTable(appliance: ReportAppliance, attachment: number, units: UnitPreferences, paint: Paint): string[] {
  const rows = stageLoads(appliance, attachment, units);
  return heading(
    table(
      rows,
      rows[0].map(() => '>' as const),
      '    ',
    ),
    paint,
  );
}

function wireTable(appliance: ReportAppliance, paint: Paint): string[] {
  const solved = appliance.stages.filter(({ state }) => state !== null);
  const names = solved[0].state?.loops.map(({ name }) => name) ?? [];
  const followed = solved.some(({ state }) => state?.stress.fibre != null);
  const headings = [
    'activation',
    ...names.flatMap((name) => [`${name} leg gap`, 'leg angle']),
    `stress, ${unitOf('stress')}`,
    'elastic use',
    ...(followed ? [`in a fibre, ${unitOf('stress')}`] : []),
  ];
  const body = appliance.stages.map(({ activation, state, status }) => [
    amount(activation, 'length'),
    ...(state === null
      ? [statusWords[status]]
      : [
          ...state.loops.flatMap(({ legGap, legAngle }) => [gapText(legGap), degrees(legAngle)]),
          bareAmount(state.stress.largest, 'stress'),
          percent(state.stress.elasticUse),
          ...(state.stress.fibre === null ? [] : [bareAmount(state.stress.fibre, 'stress')]),
        ]),
  ]);
  return heading(
    table(
      [headings, ...body],
      headings.map(() => '>' as const),
      '    ',
    ),
    paint,
  );
}

function gapText(gap: number): string {
  return gap < 0 ? `${amount(-gap, 'length')}, crossed` : amount(gap, 'length');
}

function heading(lines: readonly string[], paint: Paint): string[] {
  return lines.map((line, index) => (index === 0 ? paint.quiet(line) : line));
}

/** Stresses past yield are not what they seem. */
export function stressCaution({ stages, yielding }: ReportAppliance): string | undefined {
  if (!stages.some(({ state }) => state !== null && state.stress.elasticUse > 1)) return undefined;
  return yielding === null
    ? 'Stresses past yield are nominal: the real wire takes a permanent set there and its forces are lower.'
    : 'Stresses past yield are nominal, those of an elastic wire under the same moments; the forces are those of the yielding wire.';
}

function cautions(appliance: ReportAppliance, paint: Paint): string[] {
  const caution = stressCaution(appliance);
  return caution === undefined ? [] : ['', paint.warning(`  ${caution}`)];
}
