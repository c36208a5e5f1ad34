/**
 * The named results of the mechanics: what a requirement can be written over. Signs follow the wire's
 * action on the tooth in the upper right quadrant's frame (mechanics note, Frame and signs).
 */
import type { ApplianceAnalysis, EngagedState, LoadState, LoopState, Wrench } from '#core/analysis/analysis';
import type { ApplianceDesign, ToothGroup } from '#core/design';
import { norm, subtract, type Vec3 } from '#core/math/vector';
import { closureShare, rootPressure } from '#core/response/anchorage';
import { groupSigma2 } from '#core/response/root';
import { tipping } from '#core/response/tipping';
import { wrenchAtResistance } from '#core/response/tooth-group';
import type { Course, CoursePoint, GroupPlace } from '#core/response/visits';
import { ANGLE, FORCE, LENGTH, MOMENT, NUMBER, STRESS } from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';

export type ResultOwner = 'attachment' | 'loop' | 'load' | 'group' | 'wire' | 'activation' | 'plan';

/** What is at hand when a result is read. */
export interface ResultContext {
  readonly design: ApplianceDesign;
  readonly analysis: ApplianceAnalysis;
  readonly state: EngagedState;
  /** Index of the attachment, loop, load or group it is asked of. */
  readonly index: number;
  /** Over visits: where on the course, and the course as a whole once it is known. */
  readonly point?: CoursePoint;
  readonly course?: Course;
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

const groupOf = ({ design, index }: ResultContext): ToothGroup | undefined => design.groups[index];

function atResistance(context: ResultContext): Wrench | undefined {
  const group = groupOf(context);
  return group && wrenchAtResistance(context.design, context.state, group);
}

/** Along the arch. */
function tippingOf(context: ResultContext) {
  const group = groupOf(context);
  const wrench = atResistance(context);
  return group && wrench && tipping(wrench, groupSigma2(group, 'tip'), 'along');
}

const placeOnCourse = (context: ResultContext): GroupPlace | undefined => context.point?.groups[context.index];

/** Movements since the start of the visits. */
function movements(name: string, what: string, of: (place: GroupPlace) => Vec3): (readonly [string, NamedResult])[] {
  return FORCES.map(([direction, component, sign]) => [
    `${name}.${direction}`,
    {
      dimension: LENGTH,
      documentation: `By how far ${what} has moved toward ${direction} since the first visit. Has a value \`over visits\`.`,
      get: (context) => {
        const place = placeOnCourse(context);
        return place && sign * of(place)[component];
      },
    },
  ]);
}

const TURNED: Readonly<Record<Component, string>> = { 0: 'torque', 1: 'rotation', 2: 'tip' };

const GROUP_RESULTS: ReadonlyMap<string, NamedResult> = new Map<string, NamedResult>([
  ...FORCES.map(
    ([name, component, sign]) =>
      [
        `force.${name}`,
        {
          dimension: FORCE,
          documentation: `Force of the wire on the whole group toward ${name}.`,
          get: (context) => times(sign, atResistance(context)?.force[component]),
        },
      ] satisfies [string, NamedResult],
  ),
  [
    'force.total',
    {
      dimension: FORCE,
      documentation: 'Size of the whole force of the wire on the group.',
      get: (context) => size(atResistance(context)?.force),
    },
  ],
  ...MOMENTS.map(
    ([name, component, sign, documentation]) =>
      [
        `moment.${name}`,
        {
          dimension: MOMENT,
          documentation: `${documentation.replace('on the tooth ', '').replace(/\.$/, '')}, of the group at its centre of resistance.`,
          get: (context) => times(sign, atResistance(context)?.moment[component]),
        },
      ] satisfies [string, NamedResult],
  ),
  [
    'moment.total',
    {
      dimension: MOMENT,
      documentation: 'Size of the whole moment of the wire on the group at its centre of resistance.',
      get: (context) => size(atResistance(context)?.moment),
    },
  ],
  [
    'line_of_action',
    {
      dimension: LENGTH,
      documentation:
        'How far occlusal of the centre of resistance the line of the pull along the arch passes: the equivalent moment-to-force ratio there. 0 is translation; positive tips the crown ahead, negative the root. Has no value without a pull.',
      get: (context) => tippingOf(context)?.lineOfAction,
    },
  ],
  [
    'rotation_centre',
    {
      dimension: LENGTH,
      documentation:
        'How far apical of the centre of resistance the group turns about, seen from the side: σ² over the distance of the line of action. Has no value in translation, or where the roots’ length is not known.',
      get: (context) => (groupOf(context)?.rootLength === undefined ? undefined : tippingOf(context)?.rotationCentre),
    },
  ],
  [
    'root_pressure',
    {
      dimension: STRESS,
      documentation: 'Force on the group over the surface of its roots. Has no value where that is not known.',
      get: (context) => {
        const group = groupOf(context);
        const wrench = atResistance(context);
        return group && wrench && rootPressure(norm(wrench.force), group);
      },
    },
  ],
  [
    'closure_share',
    {
      dimension: NUMBER,
      documentation:
        'Part of a closure between the two groups that this one makes up, by the surfaces of their roots alone. Has a value where there are two groups.',
      get: (context) => {
        const own = groupOf(context);
        const other = context.design.groups[1 - context.index];
        return own && other && context.design.groups.length === 2 ? closureShare(own, other) : undefined;
      },
    },
  ],
  ...movements('moved', 'the centre of resistance', ({ moved }) => moved),
  ...movements('crown_moved', 'the first attachment of the group', ({ crownMoved }) => crownMoved),
  ...MOMENTS.map(
    ([name, component, sign]) =>
      [
        `${TURNED[component]}.${name}`,
        {
          dimension: ANGLE,
          documentation: `By how much the group has turned ${name.replace('_', '-')} since the first visit. Has a value \`over visits\`.`,
          get: (context) => times(sign, placeOnCourse(context)?.turned[component]),
        },
      ] satisfies [string, NamedResult],
  ),
]);

/** Weeks from s. */
export function weekOf(time: number): number {
  return time / WEEK;
}

/** s */
const WEEK = 7 * 86_400;

const PLAN_RESULTS: ReadonlyMap<string, NamedResult> = new Map<string, NamedResult>([
  [
    'weeks',
    {
      dimension: NUMBER,
      documentation:
        'Weeks from the first visit until the space is closed, or until it is over. Has a value `over visits`.',
      get: ({ course }) => course && weekOf(course.duration),
    },
  ],
  [
    'week',
    {
      dimension: NUMBER,
      documentation: 'The week at which the other results stand. Has a value `over visits`.',
      get: ({ point }) => point && weekOf(point.time),
    },
  ],
  [
    'visits',
    {
      dimension: NUMBER,
      documentation: 'Number of visits, the first and the last one counted. Has a value `over visits`.',
      get: ({ course }) => course?.visits.length,
    },
  ],
  [
    'reactivations',
    {
      dimension: NUMBER,
      documentation: 'How often the wire is activated again after the first time. Has a value `over visits`.',
      get: ({ course }) => course?.reactivations,
    },
  ],
  [
    'closed',
    {
      dimension: LENGTH,
      documentation: 'By how much the space has closed. Has a value `over visits`.',
      get: ({ point }) => point?.closed,
    },
  ],
]);

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
  group: GROUP_RESULTS,
  plan: PLAN_RESULTS,
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
    case 'group':
      return design.groups;
    default:
      return [];
  }
}

function size(vector: Wrench['force'] | undefined): number | undefined {
  return vector && norm(vector);
}
