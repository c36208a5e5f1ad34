/**
 * Teeth that move under a wire from visit to visit. The groups of a design creep at a speed in proportion to the load at
 * their centres of resistance, the wire follows in equilibrium, and at visits it is drawn again. An estimate: the linear
 * law is the one under which the constant product of line of action and centre of rotation holds (handbook 6.2); bone has
 * none of a delay, a threshold or an individual here.
 */
import { analyseAppliance } from '../analysis/analyse';
import type { EngagedState, Failure, Wrench } from '../analysis/analysis';
import { type Engaged, engageOnce } from '../analysis/engage-once';
import { type FurtherWire, withFurtherWires } from '../analysis/several-wires';
import { withSet } from '../analysis/taken-set';
import { hasLaw } from '../analysis/wire-laws';
import { type ApplianceDesign, seeksNeutral, type ToothGroup } from '../design';
import { handedness } from '../math/rotation';
import { apply, norm, scale, subtract, type Vec3, zeroVector } from '../math/vector';
import { drawnBy, type GroupMotion, movedPoint, withMovedTeeth } from './moved-teeth';
import { groupSigma2 } from './root';
import { integrateStifflyTo } from './rosenbrock';
import { type Integrated, integrateTo, type Motion, type StepControl } from './runge-kutta';
import { wrenchAtResistance } from './tooth-group';

/** How an appliance is used over time; s, mm. */
export interface VisitRule {
  /** From visit to visit. */
  readonly interval: number;
  /** After which it is over, whatever is left to do. */
  readonly longest: number;
  /** By how much two attachments come nearer to each other, indices of the design. */
  readonly close?: { readonly amount: number; readonly between: readonly [number, number] };
  /** Activation from neutral at the start, and again whenever the wire is reactivated; needs an activation in the design. */
  readonly activate?: number;
  /** Speed, mm/s, of a tooth under `REFERENCE_PRESSURE`. */
  readonly rate: number;
}

/**
 * Pressure on a root, MPa, at which published rates were read: 100 gf on an upper canine with a root surface of 273 mm²
 * (force and rate: handbook 6.4, 0.71 mm/month; surface: handbook 6.5, Jepsen 1963, from memory).
 */
export const REFERENCE_PRESSURE = (100 * 0.00980665) / 273;

/** Where a group has come to since the start, along its own mesial, gingival and buccal, mm and rad. */
export interface GroupPlace {
  /** Of its centre of resistance. */
  readonly moved: Vec3;
  /** About it; positive as moments are: crown-lingual, mesial-in, crown-mesial. */
  readonly turned: Vec3;
  /** Of its first attachment. */
  readonly crownMoved: Vec3;
}

export interface CoursePoint {
  /** s from the start. */
  readonly time: number;
  /** All wires in equilibrium; `activation` is what is left of it: less by what the space has closed since. */
  readonly state: EngagedState;
  /** The main wire's design with the teeth where they are now, and the wire as far as it has been drawn. */
  readonly design: ApplianceDesign;
  readonly groups: readonly GroupPlace[];
  /** By how much the space has closed, mm; 0 where none is to be closed. */
  readonly closed: number;
}

export interface Visit {
  readonly time: number;
  /** As found; at the first visit as first engaged. */
  readonly found: CoursePoint;
  readonly done: 'engaged' | 'activated' | 'reactivated' | 'left' | 'ended';
  /** As left. */
  readonly left: CoursePoint;
}

export interface Course {
  readonly visits: readonly Visit[];
  /** In the order of time, those of visits included. */
  readonly points: readonly CoursePoint[];
  readonly reactivations: number;
  /** s until the space was closed, or until it was over. */
  readonly duration: number;
  readonly end:
    | { readonly kind: 'closed' }
    | { readonly kind: 'time-is-up' }
    /** Drawing the wire again is not possible. */
    | { readonly kind: 'not-reactivated'; readonly failure: Failure }
    /** The teeth would follow the wire at once: it is too stiff for the rate. */
    | { readonly kind: 'too-fast' }
    | { readonly kind: 'no-equilibrium'; readonly failure: Failure };
  /** Equilibria solved, for the benchmarks. */
  readonly solves: number;
}

export interface CourseOptions {
  /** Longest time step, as a share of the interval, and allowed error of a step, mm. */
  readonly step?: Partial<StepControl>;
  /** With friction at its bound: each component is the least that it can be. */
  readonly friction?: boolean;
  /** `wornDesign` of the same design and activation, where it is known already. */
  readonly worn?: ApplianceDesign;
}

/**
 * The wire as it is once it has been pulled to its first activation, or as far as the file tries it out: with the set that it
 * keeps, and elastic from there on as it loses its activation and regains it. The design itself where nothing yields, or
 * yielding cannot be followed.
 */
export function wornDesign(design: ApplianceDesign, { activate }: Pick<VisitRule, 'activate'>): ApplianceDesign {
  const { activation, trialActivation } = design;
  if (!activation || activate === undefined || !hasLaw(design)) return design;
  const amount = Math.max(activate, trialActivation ?? 0);
  const { yielding } = analyseAppliance({
    ...design,
    activation: { ...activation, stages: [0, activate] },
    ...(trialActivation !== undefined && { trialActivation: amount }),
  });
  const set = yielding?.trial?.set ?? [];
  return set.length === 0 ? design : { ...design, elements: withSet(design.elements, set) };
}

/**
 * @param further  the auxiliaries of the main wire, whose teeth are known by the same names
 * @param reactivates  the file's own rule, asked at every visit but the first; without one every visit reactivates
 */
export function followVisits(
  design: ApplianceDesign,
  further: readonly Pick<FurtherWire, 'name' | 'design'>[],
  rule: VisitRule,
  reactivates: (point: CoursePoint) => boolean = () => true,
  options: CourseOptions = {},
): Course | Failure {
  const start = new Float64Array(6 * design.groups.length);
  const run: Run = {
    design: options.worn ?? wornDesign(design, rule),
    further,
    rule,
    friction: options.friction ?? false,
    positions: start,
    before: new Map(),
    stiff: false,
    solves: 0,
  };
  const drawn = draw(run);
  if ('reason' in drawn) return drawn;
  const engaged = pointAt(run, drawn, start, 0);
  if ('reason' in engaged) return engaged;
  const points: CoursePoint[] = [engaged];
  const visits: Visit[] = [
    { time: 0, found: engaged, done: rule.activate === undefined ? 'engaged' : 'activated', left: engaged },
  ];
  const finish = (end: Course['end'], duration: number): Course => ({
    visits,
    points,
    reactivations: visits.filter(({ done }) => done === 'reactivated').length,
    duration,
    end,
    solves: run.solves,
  });
  for (let visit = 1, held = drawn; ; visit++) {
    const outcome = untilVisit(run, held, visit, points, options.step ?? {});
    const last = points[points.length - 1];
    const over = outcome ?? (last.time >= rule.longest - MOMENT ? { kind: 'time-is-up' as const } : undefined);
    if (over) {
      visits.push({ time: last.time, found: last, done: 'ended', left: last });
      return finish(over, last.time);
    }
    if (rule.activate === undefined || !reactivates(last)) {
      visits.push({ time: last.time, found: last, done: 'left', left: last });
      continue;
    }
    const again = draw(run);
    const renewed = 'reason' in again ? again : pointAt(run, again, run.positions, last.time);
    if ('reason' in again || 'reason' in renewed) {
      visits.push({ time: last.time, found: last, done: 'ended', left: last });
      return finish({ kind: 'not-reactivated', failure: 'reason' in again ? again : (renewed as Failure) }, last.time);
    }
    held = again;
    points.push(renewed);
    visits.push({ time: last.time, found: last, done: 'reactivated', left: renewed });
  }
}

interface Run {
  readonly design: ApplianceDesign;
  readonly further: readonly Pick<FurtherWire, 'name' | 'design'>[];
  readonly rule: VisitRule;
  readonly friction: boolean;
  /** Of the teeth, carried on in place. */
  readonly positions: Float64Array;
  /** The last equilibrium of each wire, to set out from. */
  readonly before: Map<string, Engaged>;
  /** Whether the wire resists some movement so much that steps have to be implicit. */
  stiff: boolean;
  solves: number;
}

/** No wire has this name. */
const MAIN = '';

/** The wire as it is held from one visit to the next. */
interface Drawn {
  /** The design with the wire drawn, its teeth as at the start. */
  readonly wire: ApplianceDesign;
  /** Amount of the activation's motion, mm. */
  readonly motion: number;
  /** Activation when it was drawn, and how far its ends had come nearer to each other by then, mm. */
  readonly activation: number;
  readonly approach: number;
}

/** Draws the wire to the wanted activation from the neutral position of the teeth where they are now. */
function draw(run: Run): Drawn | Failure {
  const { design, rule, positions } = run;
  const { activation } = design;
  // Without an amount it is engaged as its attachments stand.
  if (!activation || rule.activate === undefined)
    return { wire: drawnBy(design, 0), motion: 0, activation: 0, approach: 0 };
  const motions = motionsOf(design, positions);
  const amount = rule.activate;
  const { trialActivation: _, ...moved } = withMovedTeeth(design, design, motions);
  run.before.clear();
  run.solves++;
  const { stages, failure } = analyseAppliance(
    { ...moved, activation: { ...activation, stages: [amount] } },
    { yielding: 'elastic' },
  );
  const [stage] = stages;
  if (!stage?.state) return failure ?? stage?.failure ?? { reason: 'no-neutral', motion: 0 };
  const { motion } = stage.state;
  const left = seeksNeutral(design) ? amount : motion;
  return {
    wire: drawnBy(design, motion),
    motion,
    activation: left,
    approach: approach(design, outermost(design), motions),
  };
}

/** Moves the teeth up to a visit, or until the space is closed; undefined where there is more to do. */
function untilVisit(
  run: Run,
  drawn: Drawn,
  visit: number,
  points: CoursePoint[],
  step: Partial<StepControl>,
): Course['end'] | undefined {
  const { rule, positions } = run;
  const from = points[points.length - 1].time;
  const to = Math.min(visit * rule.interval, rule.longest);
  let failed: Failure | undefined;
  let latest: CoursePoint | undefined;
  const wanted = rule.close?.amount ?? Number.POSITIVE_INFINITY;
  const scales = scalesOf(run.design);
  const motion: Motion = {
    rates: (at, into) => {
      const point = pointAt(run, drawn, at, 0);
      if ('reason' in point) {
        failed = point;
        return false;
      }
      if (run.solves > MOST_SOLVES) return false;
      latest = point;
      writeRates(run, point, into);
      return true;
    },
    stepped: (before, after, time) => {
      const [was, is] = [before, after].map((at) => closedBy(run, motionsOf(run.design, at)));
      if (is >= wanted) return Math.min(1, Math.max(0, (wanted - was) / Math.max(is - was, Number.MIN_VALUE)));
      // The last rates asked for were those at the end of the step.
      if (latest) points.push({ ...latest, time });
      return undefined;
    },
  };
  const control = { longest: (step.longest ?? LONGEST_STEP) * rule.interval, error: step.error ?? STEP_ERROR };
  const direct: Integrated = run.stiff
    ? { kind: 'too-many-steps', time: from }
    : integrateTo(positions, { from, to }, scales, motion, control);
  run.stiff ||= direct.kind === 'too-many-steps' || direct.kind === 'no-rates';
  failed = undefined;
  const rest = { from: 'time' in direct ? direct.time : from, to };
  const outcome = run.stiff
    ? integrateStifflyTo(positions, rest, scales, motion, { ...control, error: STIFF_ERROR })
    : direct;
  if (outcome.kind === 'stopped') {
    const point = pointAt(run, drawn, positions, outcome.time);
    if ('reason' in point) return { kind: 'no-equilibrium', failure: point };
    points.push(point);
    return { kind: 'closed' };
  }
  if (outcome.kind === 'no-rates' && failed) return { kind: 'no-equilibrium', failure: failed };
  return outcome.kind === 'arrived' ? undefined : { kind: 'too-fast' };
}

/** Where the wire is stiff, mm: transients that are over in hours need not be told to the hundredth. */
const STIFF_ERROR = 0.02;
/** Equilibria of a course: an editor waits for them. */
const MOST_SOLVES = 800;
/** Of the interval. */
const LONGEST_STEP = 1 / 3;
/** mm, of a group's centre of resistance or, times σ, of its turn. */
const STEP_ERROR = 0.004;
/** s */
const MOMENT = 1;

/** All wires in equilibrium with the teeth at the given positions. */
function pointAt(run: Run, drawn: Drawn, positions: Float64Array, time: number): CoursePoint | Failure {
  const { design, further } = run;
  const motions = motionsOf(design, positions);
  const moved = withMovedTeeth(drawn.wire, design, motions);
  const own = solve(run, MAIN, moved);
  if ('reason' in own) return own;
  const state = further.length > 0 ? together(run, moved, own, motions) : own;
  if ('reason' in state) return state;
  const since = approach(design, outermost(design), motions) - drawn.approach;
  return {
    time,
    state: { ...state, motion: drawn.motion, activation: drawn.activation > 0 ? drawn.activation - since : 0 },
    design: moved,
    groups: design.groups.map((group, k) => placeOf(design, group, motions[k])),
    closed: closedBy(run, motions),
  };
}

function solve(run: Run, wire: string, design: ApplianceDesign): EngagedState | Failure {
  run.solves++;
  const outcome = engageOnce(design, run.before.get(wire));
  if ('reason' in outcome) return outcome;
  run.before.set(wire, outcome.engaged);
  return outcome.state;
}

function together(
  run: Run,
  design: ApplianceDesign,
  state: EngagedState,
  motions: readonly GroupMotion[],
): EngagedState | Failure {
  const beside: FurtherWire[] = [];
  for (const wire of run.further) {
    const moved = withMovedTeeth({ ...wire.design, activation: undefined }, run.design, motions);
    const other = solve(run, wire.name, moved);
    if ('reason' in other) return { reason: 'further-wire', wire: wire.name };
    beside.push({ name: wire.name, design: moved, analysis: analysisOf(other) });
  }
  const [stage] = withFurtherWires(design, analysisOf(state), beside).stages;
  return stage.state ?? stage.failure ?? { reason: 'further-wire', wire: run.further[0].name };
}

/** One state as an analysis, for what adds up several wires. */
function analysisOf(state: EngagedState) {
  const { outline } = state;
  return {
    developedLength: 0,
    nominal: outline,
    passive: outline,
    nominalLoops: [],
    passiveLoops: [],
    neutral: undefined,
    stages: [{ activation: 0, state, failure: undefined }],
    failure: undefined,
    parallelLegs: [],
    firstYield: undefined,
    stiffness: [undefined],
    contacts: { nominal: [], neutral: [] },
    effort: { solves: 0, iterations: 0 },
  };
}

/** Six numbers a group: shift of its centre of resistance and rotation vector about it, in the outer frame. */
function motionsOf({ groups }: ApplianceDesign, positions: Float64Array): GroupMotion[] {
  return groups.map((_, k) => ({
    shift: [positions[6 * k], positions[6 * k + 1], positions[6 * k + 2]],
    turn: [positions[6 * k + 3], positions[6 * k + 4], positions[6 * k + 5]],
  }));
}

/** What a change of each position moves, mm: a turn moves a point at the distance σ. */
function scalesOf({ groups }: ApplianceDesign): Float64Array {
  return Float64Array.from(
    groups.flatMap((group) => [1, 1, 1, ...[0, 0, 0].map(() => Math.sqrt(Math.max(...turningOf(group))))]),
  );
}

/**
 * Shift in proportion to the force, turn to the moment over σ², so that a force at the distance `a` from the centre of
 * resistance turns the group about a point σ² / a beyond it (handbook 6.2). Turns about the long axis go by the same σ²,
 * for want of a published figure.
 */
function writeRates({ design, rule, friction }: Run, point: CoursePoint, into: Float64Array): void {
  const wrenches = friction ? leastByFriction(point.state) : point.state.wrenches;
  for (const [k, group] of point.design.groups.entries()) {
    const { force, moment } = wrenchAtResistance(point.design, { ...point.state, wrenches }, group);
    const mobility = rule.rate / (REFERENCE_PRESSURE * (group.rootArea ?? Number.POSITIVE_INFINITY));
    const { axes } = design.groups[k];
    const shift = apply(axes, scale(force, mobility));
    const [torque, rotation, tip] = turningOf(group);
    const turned: Vec3 = [moment[0] / torque, moment[1] / rotation, moment[2] / tip];
    const turn = apply(axes, scale(turned, handedness(axes) * mobility));
    into.set(shift, 6 * k);
    into.set(turn, 6 * k + 3);
  }
}

/** σ² about the group's mesial, gingival and buccal, mm². */
function turningOf(group: ToothGroup): readonly [number, number, number] {
  return [groupSigma2(group, 'torque'), groupSigma2(group, 'rotation'), groupSigma2(group, 'tip')];
}

/** Each component nearest to nothing that friction lets it be. */
function leastByFriction({ wrenches, friction }: EngagedState): readonly Wrench[] {
  if (!friction) return wrenches;
  const nearest = (least: number, most: number) => Math.max(least, Math.min(most, 0));
  const vector = (least: Vec3, most: Vec3): Vec3 => [
    nearest(least[0], most[0]),
    nearest(least[1], most[1]),
    nearest(least[2], most[2]),
  ];
  return friction.map(({ least, most }) => ({
    force: vector(least.force, most.force),
    moment: vector(least.moment, most.moment),
  }));
}

/** By how much the space has closed, mm. */
function closedBy({ design, rule }: Run, motions: readonly GroupMotion[]): number {
  return rule.close ? approach(design, rule.close.between, motions) : 0;
}

/** By how much two attachments have come nearer to each other, mm. */
function approach(
  design: ApplianceDesign,
  between: readonly [number, number],
  motions: readonly GroupMotion[],
): number {
  const [before, now] = [design.groups.map(() => STILL), motions].map((those) => {
    const [a, b] = between.map((k) => placeOfAttachment(design, k, those));
    return norm(subtract(a, b));
  });
  return before - now;
}

const STILL: GroupMotion = { shift: zeroVector, turn: zeroVector };

function outermost({ attachments }: ApplianceDesign): readonly [number, number] {
  return [0, attachments.length - 1];
}

function placeOfAttachment({ attachments, groups }: ApplianceDesign, k: number, motions: readonly GroupMotion[]): Vec3 {
  const { position } = attachments[k].seatedWire;
  const group = groups.findIndex((one) => one.attachments.includes(k));
  return group < 0 ? position : movedPoint(position, motions[group], groups[group].resistance);
}

function placeOf({ attachments }: ApplianceDesign, group: ToothGroup, motion: GroupMotion): GroupPlace {
  const { position } = attachments[group.attachments[0]].seatedWire;
  const own = (v: Vec3): Vec3 => {
    const { axes } = group;
    return [0, 1, 2].map((k) => axes[k] * v[0] + axes[3 + k] * v[1] + axes[6 + k] * v[2]) as unknown as Vec3;
  };
  return {
    moved: own(motion.shift),
    turned: scale(own(motion.turn), handedness(group.axes)),
    crownMoved: own(subtract(movedPoint(position, motion, group.resistance), position)),
  };
}
