/** Two revisions of appliances, figure by figure: what they are made of, what they do, and what is asked of them. */
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import { effects } from '#model/effects';
import type { EvaluatedAppliance } from '#model/resolved';
import { activationText, sectionText, wrenchOf } from './appliance-text';
import { amount, degrees, percent } from './quantities';
import { outcomeWords, stageWords, verdictWord } from './requirement-text';
import type { ReportAppliance, ReportRequirement, ReportState } from './schema';

/** One revision of an appliance. */
export interface Revision {
  readonly evaluated: EvaluatedAppliance;
  readonly report: ReportAppliance;
}

export interface Change {
  /** What the figure belongs to: "Wire", "At 1.5 mm". */
  readonly group: string;
  readonly name: string;
  /** With its unit; undefined where it is not there. */
  readonly before: string | undefined;
  readonly after: string | undefined;
  /** Of one stage of the activation, of which there are many. */
  readonly stage?: true;
  /** Of a requirement: it was met and is not any more. */
  readonly worse?: true;
  /** Of a requirement: it was not met and is now. */
  readonly better?: true;
}

/** By name of the appliance, in the order of the later revision, then those that are gone. */
export interface Comparison {
  readonly name: string;
  /** Where the appliance stands, where several files are compared. */
  readonly file?: string;
  readonly state: 'added' | 'removed' | 'kept';
  readonly changes: readonly Change[];
}

/** Whether anything of it is to be told: a figure, or that it is new or gone. */
export function isChanged({ state, changes }: Comparison): boolean {
  return state !== 'kept' || changes.length > 0;
}

/**
 * Smaller changes are none: they lie below what is printed, and above what the solver leaves open (it balances forces
 * to better than a millionth of their scale). In mm, N, N mm, MPa, deg and parts of one.
 */
export const SMALLEST_CHANGE = {
  length: 1e-3,
  force: 1e-3,
  moment: 1e-2,
  stress: 0.5,
  angle: 0.01,
  part: 1e-3,
} as const;

/** Of what a requirement asks for, in parts of its size: its unit may be any. */
export const SMALLEST_REQUIRED_CHANGE = 1e-3;

/** One figure of an appliance, as it is printed and as a number to compare by. */
export interface Figure {
  readonly group: string;
  readonly name: string;
  readonly text: string;
  readonly kind: keyof typeof SMALLEST_CHANGE | 'required' | 'words';
  /** Absent where there are only words. */
  readonly value?: number;
  readonly outcome?: ReportRequirement['outcome'];
  readonly stage?: true;
}

export interface ApplianceFigures {
  readonly name: string;
  readonly figures: readonly Figure[];
}

export function compareRevisions(
  before: readonly Revision[],
  after: readonly Revision[],
  units: UnitPreferences,
): readonly Comparison[] {
  const figures = (revision: Revision) => applianceFigures(revision, units);
  return compareFigures(before.map(figures), after.map(figures));
}

export function compareFigures(
  before: readonly ApplianceFigures[],
  after: readonly ApplianceFigures[],
): readonly Comparison[] {
  const earlier = new Map(before.map(({ name, figures }) => [name, figures]));
  const later = new Set(after.map(({ name }) => name));
  return [
    ...after.map(({ name, figures }): Comparison => {
      const known = earlier.get(name);
      const state = known === undefined ? 'added' : 'kept';
      return { name, state, changes: changesOf(known ?? [], figures) };
    }),
    ...before
      .filter(({ name }) => !later.has(name))
      .map(({ name }): Comparison => ({ name, state: 'removed', changes: [] })),
  ];
}

export function applianceFigures(revision: Revision, units: UnitPreferences): ApplianceFigures {
  return { name: revision.report.name, figures: figuresOf(revision, units) };
}

function changesOf(before: readonly Figure[], after: readonly Figure[]): Change[] {
  const earlier = new Map(before.map((figure) => [keyOf(figure), figure]));
  const later = new Map(after.map((figure) => [keyOf(figure), figure]));
  const groups = [...new Set([...after, ...before].map(({ group }) => group))];
  const keys = [...new Set([...later.keys(), ...earlier.keys()])];
  return groups.flatMap((group) =>
    keys.flatMap((key): Change[] => {
      const [old, now] = [earlier.get(key), later.get(key)];
      const figure = now ?? old;
      if (figure?.group !== group || !differs(old, now)) return [];
      const worse = old?.outcome === 'met' && now?.outcome !== undefined && now.outcome !== 'met';
      const better = now?.outcome === 'met' && old?.outcome !== undefined && old.outcome !== 'met';
      return [
        {
          group,
          name: figure.name,
          before: old?.text,
          after: now?.text,
          ...(figure.stage && { stage: true }),
          ...(worse && { worse }),
          ...(better && { better }),
        },
      ];
    }),
  );
}

function keyOf({ group, name }: Figure): string {
  return `${group}\n${name}`;
}

function differs(before: Figure | undefined, after: Figure | undefined): boolean {
  if (before === undefined || after === undefined) return true;
  if (before.outcome !== after.outcome) return true;
  const [old, now] = [before.value, after.value];
  if (old === undefined || now === undefined || after.kind === 'words' || before.kind !== after.kind)
    return before.text !== after.text;
  if (after.kind !== 'required') return Math.abs(old - now) >= SMALLEST_CHANGE[after.kind];
  const smallest = SMALLEST_REQUIRED_CHANGE * Math.max(Math.abs(old), Math.abs(now));
  return before.text !== after.text && Math.abs(old - now) >= smallest;
}

function figuresOf({ evaluated, report }: Revision, units: UnitPreferences): Figure[] {
  return [
    ...evaluated.appliance.parameters.flatMap(({ name, value }): Figure[] =>
      value === undefined ? [] : [words('Parameters', name, formatQuantity(value, units))],
    ),
    ...report.requirements.map((requirement): Figure => {
      const condition = requirement.condition.replace(/\s+/g, ' ');
      const stage = requirement.stage === 'along' ? 'along activation' : stageWords(requirement);
      const { kind, outcome, actualValue } = requirement;
      const text = `${verdictWord(requirement)}, ${outcomeWords({ ...requirement, because: null })}`;
      const name = `${kind} ${stage}: ${condition}`;
      const value = actualValue ?? undefined;
      return { group: 'Requirements', name, text, kind: 'required', outcome, ...(value !== undefined && { value }) };
    }),
    ...wireFigures(report),
    ...bendFigures(report),
    ...visitFigures(report),
    ...report.stages.flatMap(({ activation, state, status }) => {
      const group = report.activation === null ? 'Engaged' : `At ${amount(activation, 'length')}`;
      const figures = state === null ? [words(group, 'solved', `no: ${status}`)] : stateFigures(group, state, units);
      return figures.map((figure): Figure => ({ ...figure, stage: true }));
    }),
  ];
}

function wireFigures({
  wire,
  developedLength,
  attachments,
  activation,
  neutral,
  firstYield,
  status,
}: ReportAppliance): Figure[] {
  const group = 'Wire';
  return [
    ...(wire === null ? [] : [words(group, 'section and alloy', `${sectionText(wire.section)} of ${wire.alloy}`)]),
    ...(wire === null ? [] : [words(group, 'modulus', amount(wire.modulus, 'stress'))]),
    ...(developedLength === null ? [] : [length(group, 'developed length', developedLength)]),
    ...attachments.map(({ name, station }) => length(group, `seat of ${name}`, station)),
    ...(activation === null ? [] : [words(group, 'activation', activationText(activation))]),
    ...(neutral === null || activation === null ? [] : [length(group, 'neutral position', neutral.motion)]),
    ...(firstYield === null || activation === null ? [] : [length(group, 'first yield', firstYield)]),
    ...(status === 'converged' ? [] : [words(group, 'solved', `no: ${status}`)]),
  ];
}

/** What becomes of the teeth, at the usual rate. */
function visitFigures({ visits }: ReportAppliance): Figure[] {
  const group = 'Visits';
  const [usual] = visits?.courses ?? [];
  if (!usual) return [];
  return [
    words(group, 'end', usual.end),
    words(group, 'weeks', String(Math.round(usual.weeks))),
    words(group, 'reactivations', String(usual.reactivations)),
    ...usual.groups.flatMap(({ name, crownMoved, turned }) => [
      length(group, `crown of ${name} moved mesially`, crownMoved.mesial),
      angleOf(group, `${name} tipped crown-mesially`, turned.tip),
    ]),
  ];
}

function bendFigures({ bends }: ReportAppliance): Figure[] {
  const group = 'Bends';
  return [
    words(group, 'number', String(bends.length)),
    ...bends.flatMap(({ angle, radius, direction }, index) => [
      angleOf(group, `bend ${index + 1}, angle`, angle),
      length(group, `bend ${index + 1}, radius`, radius),
      ...(direction === null ? [] : [words(group, `bend ${index + 1}, toward`, direction)]),
    ]),
  ];
}

function stateFigures(group: string, { loads, loops, stress }: ReportState, units: UnitPreferences): Figure[] {
  return [
    ...loads.flatMap((load) =>
      effects(wrenchOf(load)).map(({ kind, axis, amount: size, words: effect }): Figure => {
        const signed = wrenchOf(load)[kind][axis];
        const name = `${load.attachment}, ${axes[kind][axis]}`;
        // Told apart by its sign, told in words.
        const text = size < SMALLEST_CHANGE[kind] ? 'none' : `${effect}, ${amount(size, kind, units)}`;
        return { group, name, kind, value: signed, text };
      }),
    ),
    ...loops.flatMap(({ name, legGap, legAngle }) => [
      length(group, `${name}, leg gap`, legGap),
      angleOf(group, `${name}, leg angle`, legAngle),
    ]),
    { group, name: 'largest stress', kind: 'stress', value: stress.largest, text: amount(stress.largest, 'stress') },
    { group, name: 'elastic use', kind: 'part', value: stress.elasticUse, text: percent(stress.elasticUse) },
  ];
}

const axes = {
  force: ['mesiodistal force', 'vertical force', 'buccolingual force'],
  moment: ['torque', 'rotation', 'tip'],
} as const;

function words(group: string, name: string, text: string): Figure {
  return { group, name, kind: 'words', text };
}

function length(group: string, name: string, value: number): Figure {
  return { group, name, kind: 'length', value, text: amount(value, 'length') };
}

function angleOf(group: string, name: string, value: number): Figure {
  return { group, name, kind: 'angle', value, text: degrees(value) };
}
