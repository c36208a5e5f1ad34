/**
 * The named results of the mechanics: what a requirement can be written over. Signs follow the wire's
 * action on the tooth in the upper right quadrant's frame (mechanics note, Frame and signs).
 */
import type { ApplianceAnalysis, EngagedState, LoadState, LoopState, Wrench } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { norm, subtract } from '#core/math/vector';
import { ANGLE, FORCE, LENGTH, MOMENT, NUMBER, STRESS } from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';

export type ResultOwner = 'attachment' | 'loop' | 'load' | 'wire' | 'activation';

/** What is at hand when a result is read. */
export interface ResultContext {
  readonly design: ApplianceDesign;
  readonly analysis: ApplianceAnalysis;
  readonly state: EngagedState;
  /** Index of the attachment, loop or load it is asked of. */
  readonly index: number;
}

export interface NamedResult {
  readonly dimension: Dimension;
  readonly documentation: string;
  /** Rests on the trial activation, also where the file does not ask for one. */
  readonly ofTrial?: true;
  /** Undefined where the analysis has no such figure. */
  get(context: ResultContext): number | undefined;
}

type Component = 0 | 1 | 2;

const FORCES: readonly (readonly [string, Component, 1 | -1, string])[] = [
  ['mesial', 0, 1, 'Force of the wire on the tooth toward mesial.'],
  ['distal', 0, -1, 'Force of the wire on the tooth toward distal.'],
  ['gingival', 1, 1, 'Force of the wire on the tooth toward gingival: it intrudes.'],
  ['occlusal', 1, -1, 'Force of the wire on the tooth toward occlusal: it extrudes.'],
  ['buccal', 2, 1, 'Force of the wire on the tooth toward buccal.'],
  ['lingual', 2, -1, 'Force of the wire on the tooth toward lingual.'],
];

const MOMENTS: readonly (readonly [string, Component, 1 | -1, string])[] = [
  ['crown_mesial', 2, 1, 'Moment of the wire on the tooth that tips its crown mesially.'],
  ['crown_distal', 2, -1, 'Moment of the wire on the tooth that tips its crown distally.'],
  ['mesial_in', 1, 1, 'Moment of the wire on the tooth that turns its mesial side toward lingual.'],
  ['mesial_out', 1, -1, 'Moment of the wire on the tooth that turns its mesial side toward buccal.'],
  ['crown_lingual', 0, 1, 'Moment of the wire on the tooth that torques its crown toward lingual.'],
  ['crown_buccal', 0, -1, 'Moment of the wire on the tooth that torques its crown toward buccal.'],
];

const TURNS: readonly (readonly [string, Component, string])[] = [
  ['tip', 2, 'second order'],
  ['rotation', 1, 'first order'],
  ['torque', 0, 'third order'],
];

const wrenchOf = ({ state, index }: ResultContext): Wrench | undefined => state.wrenches[index];
const loopOf = ({ state, index }: ResultContext): LoopState | undefined => state.loops[index];

function setOf({ analysis, index }: ResultContext, figure: keyof LoopState): number | undefined {
  const { yielding, unfollowed } = analysis;
  if (unfollowed) return undefined;
  if (!yielding?.trial) return 0;
  return yielding.trial.passiveLoops[index][figure] - yielding.first.passiveLoops[index][figure];
}

function times(sign: 1 | -1, value: number | undefined): number | undefined {
  return value === undefined ? undefined : sign * value;
}

const ATTACHMENT_RESULTS: ReadonlyMap<string, NamedResult> = new Map<string, NamedResult>([
  ...FORCES.map(
    ([name, component, sign, documentation]) =>
      [
        `force.${name}`,
        { dimension: FORCE, documentation, get: (context) => times(sign, wrenchOf(context)?.force[component]) },
      ] satisfies [string, NamedResult],
  ),
  [
    'force.total',
    {
      dimension: FORCE,
      documentation: 'Size of the whole force of the wire on the tooth.',
      get: (context) => size(wrenchOf(context)?.force),
    },
  ],
  ...MOMENTS.map(
    ([name, component, sign, documentation]) =>
      [
        `moment.${name}`,
        { dimension: MOMENT, documentation, get: (context) => times(sign, wrenchOf(context)?.moment[component]) },
      ] satisfies [string, NamedResult],
  ),
  [
    'moment.total',
    {
      dimension: MOMENT,
      documentation: 'Size of the whole moment of the wire on the tooth at the middle of the slot.',
      get: (context) => size(wrenchOf(context)?.moment),
    },
  ],
  [
    'slid',
    {
      dimension: LENGTH,
      documentation:
        'Wire that has slid through the attachment in the wire’s own direction; negative against it, 0 where it is held. Of a pull, what has been drawn through.',
      get: ({ state, index }) => state.slid[index],
    },
  ],
  ...TURNS.map(
    ([name, component, order]) =>
      [
        `play.${name}`,
        {
          dimension: ANGLE,
          documentation: `Angle by which the wire stands turned in its slot (${order}): what play takes of a bend or twist. Has no value without \`with play\`.`,
          get: ({ state, index }) => state.seated[index]?.turn[component],
        },
      ] satisfies [string, NamedResult],
  ),
]);

const LOAD_RESULTS: ReadonlyMap<string, NamedResult> = new Map<string, NamedResult>([
  [
    'force',
    {
      dimension: FORCE,
      documentation: 'Pull between its two ends; negative where a coil spring pushes, 0 where it is slack.',
      get: ({ state, index }) => state.loads[index]?.force,
    },
  ],
  [
    'length',
    {
      dimension: LENGTH,
      documentation: 'Distance between the two places at which it takes hold.',
      get: ({ state, index }) => state.loads[index] && loadLength(state.loads[index]),
    },
  ],
]);

/** mm */
export function loadLength({ places }: LoadState): number {
  return norm(subtract(places[1], places[0]));
}

const LOOP_RESULTS: ReadonlyMap<string, NamedResult> = new Map<string, NamedResult>([
  [
    'leg_gap',
    {
      dimension: LENGTH,
      documentation:
        'Second leg’s foot minus first leg’s foot along the running direction, centre lines: positive open, negative crossed.',
      get: (context) => loopOf(context)?.legGap,
    },
  ],
  [
    'leg_angle',
    {
      dimension: ANGLE,
      documentation: 'Angle between the legs at their feet in the loop’s plane; 0 where they are parallel.',
      get: (context) => loopOf(context)?.legAngle,
    },
  ],
  [
    'leg_gap_set',
    {
      dimension: LENGTH,
      documentation: 'By how much the trial activation opens (positive) or closes the legs of the free loop.',
      ofTrial: true,
      get: (context) => setOf(context, 'legGap'),
    },
  ],
  [
    'leg_angle_set',
    {
      dimension: ANGLE,
      documentation: 'By how much the trial activation turns the legs of the free loop toward each other.',
      ofTrial: true,
      get: (context) => setOf(context, 'legAngle'),
    },
  ],
]);

const WIRE_RESULTS: ReadonlyMap<string, NamedResult> = new Map<string, NamedResult>([
  [
    'stress',
    {
      dimension: STRESS,
      documentation:
        'Largest fibre stress by von Mises that an elastic wire would have under the forces and moments that act; nominal past yield.',
      get: ({ state }) => state.stress,
    },
  ],
  [
    'fibre_stress',
    {
      dimension: STRESS,
      documentation:
        'Largest stress that a fibre of the wire bears, from bending and stretch: where the wire yields it stays near the yield strength.',
      get: ({ state }) => state.fibreStress ?? state.stress,
    },
  ],
  [
    'set',
    {
      dimension: ANGLE,
      documentation:
        'Turn between the first and the last attachment’s seat that the trial activation leaves in the free wire; 0 where it stays elastic. Without a trial activation in the file, what one to the largest stage would leave.',
      ofTrial: true,
      get: ({ analysis }) => (analysis.unfollowed ? undefined : (analysis.yielding?.trial?.setTurn ?? 0)),
    },
  ],
  [
    'yield',
    { dimension: STRESS, documentation: 'Yield strength of the alloy.', get: ({ design }) => design.alloy.yield },
  ],
  [
    'elastic_use',
    {
      dimension: NUMBER,
      documentation:
        'Share of the elastic range that is used: largest elastic (nominal) stress over yield strength or, at a bend that is loaded against its last sense, over what forming it has left of that. Above 1 a wire takes a set, unless it was pulled as far on trial before.',
      get: ({ state }) => state.elasticUse,
    },
  ],
  [
    'developed_length',
    {
      dimension: LENGTH,
      documentation: 'Length of the whole wire along its centre line.',
      get: ({ analysis }) => analysis.developedLength,
    },
  ],
  [
    'stress_station',
    {
      dimension: LENGTH,
      documentation: 'Where the largest stress is, along the wire from its start.',
      get: ({ state }) => state.stressStation,
    },
  ],
]);

const ACTIVATION_RESULTS: ReadonlyMap<string, NamedResult> = new Map<string, NamedResult>([
  [
    'amount',
    { dimension: LENGTH, documentation: 'Activation, counted from neutral.', get: ({ state }) => state.activation },
  ],
  [
    'motion',
    {
      dimension: LENGTH,
      documentation: 'Amount of the declared motion, counted from the attachments as they stand.',
      get: ({ state }) => state.motion,
    },
  ],
  [
    'neutral',
    {
      dimension: LENGTH,
      documentation: 'Amount of the declared motion at neutral: where the wire has no force along it.',
      get: ({ analysis }) => analysis.neutral?.motion,
    },
  ],
  [
    'neutral_before',
    {
      dimension: LENGTH,
      documentation: 'Motion at neutral of the wire as first engaged, before any trial activation.',
      get: ({ analysis }) => (analysis.yielding?.first.neutral ?? analysis.neutral)?.motion,
    },
  ],
  [
    'neutral_after',
    {
      dimension: LENGTH,
      documentation:
        'Motion at neutral after the trial activation; without one in the file, after one to the largest stage. The same as before where the wire stays elastic.',
      ofTrial: true,
      get: ({ analysis: { yielding, neutral, unfollowed } }) =>
        unfollowed ? undefined : (yielding ? (yielding.trial ?? yielding.first) : { neutral }).neutral?.motion,
    },
  ],
  [
    'without_set',
    {
      dimension: LENGTH,
      documentation:
        'Largest activation without further set, from the neutral position after the trial activation (without one in the file, after one to the largest stage). Has no value where the stages do not reach it.',
      ofTrial: true,
      get: ({ analysis: { yielding, firstYield } }) => (yielding ? yielding.trial?.largestWithoutSet : firstYield),
    },
  ],
]);

export const RESULTS: Readonly<Record<ResultOwner, ReadonlyMap<string, NamedResult>>> = {
  attachment: ATTACHMENT_RESULTS,
  loop: LOOP_RESULTS,
  load: LOAD_RESULTS,
  wire: WIRE_RESULTS,
  activation: ACTIVATION_RESULTS,
};

/** Whether a text names a result that rests on the trial activation. */
export function namesTrialResult(text: string): boolean {
  return TRIAL_RESULT.test(text);
}

const TRIAL_RESULT = new RegExp(
  `\\.\\s*(${Object.values(RESULTS)
    .flatMap((results) => [...results].flatMap(([name, { ofTrial }]) => (ofTrial ? [name] : [])))
    .join('|')})\\b`,
);

/** What has results of that kind, in the order in which `ResultContext.index` counts it. */
export function ownersOf(owner: ResultOwner, design: ApplianceDesign): readonly { readonly name?: string }[] {
  switch (owner) {
    case 'attachment':
      return design.attachments;
    case 'loop':
      return design.loops;
    case 'load':
      return design.loads;
    default:
      return [];
  }
}

function size(vector: Wrench['force'] | undefined): number | undefined {
  return vector && norm(vector);
}
