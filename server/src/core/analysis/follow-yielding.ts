/**
 * The activation curve of a wire that leaves its elastic range, with the history of its sections: first engagement, the
 * trial activation that the file asks for and release, neutral found again, stages. Where the file asks for none, the
 * wire is let go after its largest stage, to tell what a trial activation would change.
 */
import { type ApplianceDesign, seeksNeutral } from '../design';
import type { Centreline } from '../geometry/centreline';
import { wireFibres } from '../material/wire-fibres';
import type { Outcome } from '../mechanics/continuation';
import type { HeldWire } from '../mechanics/held-wire';
import {
  advanceInelastically,
  createInelasticPath,
  engageAtInelasticNeutral,
  engageInelastically,
  goBack,
  type InelasticPath,
  rebalance,
  release,
} from '../mechanics/inelastic/inelastic-path';
import { createInelasticSpan, setInelasticControls } from '../mechanics/inelastic/inelastic-span';
import { inelasticIsStable, inelasticReactions, largestFibreStress } from '../mechanics/inelastic/inelastic-state';
import { placeNodes } from '../mechanics/inelastic/sweep';
import type { MeshRule } from '../mechanics/mesh';
import type { PlacedSpan } from '../mechanics/placed-span';
import { freshControls } from '../mechanics/wire-controls';
import type {
  AnalysisOptions,
  EngagedState,
  Failure,
  Formed,
  StageResult,
  TrialActivation,
  Yielding,
} from './analysis';
import { type Curve, fromNeutral, unsolved, visitingOrder } from './curve';
import { engagedState, type Kernel, slidAmounts, type WireRecord, wireRecord } from './engaged-state';
import { motionFailure, slotFailure } from './feasibility';
import { type FreeWire, freeWire, turnBetween } from './free-wire';
import { type DraggedWire, frictionBounds, hasFriction } from './friction';
import { takenSet } from './taken-set';
import { takesSet } from './wire-laws';

export interface YieldingCurve {
  readonly curve: Curve;
  readonly yielding: Yielding;
}

/** In a plane, and in space, where a step costs ten times as much. */
const planarMesh: MeshRule = { turn: Math.PI / 8, length: 0.5, elastic: 1 };
const spatialMesh: MeshRule = { turn: Math.PI / 6, length: 0.75, elastic: 1 };

/**
 * Follows the `held` wire of an elastic curve; a failure where it cannot be engaged. Yields nothing after an
 * equilibrium, and once the curve without the trial activation where one follows that the file does not ask for.
 */
export function* followYielding(
  design: ApplianceDesign,
  held: HeldWire,
  elastic: Curve,
  lines: { readonly nominal: Centreline; readonly passive: Centreline },
  options: Partial<AnalysisOptions>,
): Generator<YieldingCurve | undefined, YieldingCurve | Failure> {
  const wire = prepare(design, held, elastic, lines);
  const { activation } = design;
  const bent = freeShape(wire);
  const firstNeutral = engageFree(wire);
  yield;
  if (typeof firstNeutral !== 'number') return firstNeutral;
  const first: Formed = {
    neutral: stateOf(wire, firstNeutral, 0),
    passive: bent.passive,
    passiveLoops: bent.passiveLoops,
  };
  const asked = [...(activation?.stages ?? [0]), ...(options.extraActivations ?? [])];
  const written = activation ? design.trialActivation : undefined;
  if (written !== undefined) {
    const trial = yield* tryOut(wire, bent, firstNeutral, written);
    if ('reason' in trial) return trial;
    const curve = yield* followStages(wire, trial.neutral, asked);
    const largestWithoutSet = trial.resets ? 0 : yield* largestElastic(wire, trial.neutral.motion, curve.onset);
    const { resets, ...kept } = trial;
    return {
      curve: curve.curve,
      yielding: { first, stages: 'after-trial', trial: { ...kept, largestWithoutSet }, failure: undefined },
    };
  }
  const { curve } = yield* followStages(wire, first.neutral, asked);
  if (!takesSet(design)) {
    return { curve, yielding: { first, stages: 'first', trial: undefined, failure: undefined } };
  }
  yield { curve, yielding: { first, stages: 'first', trial: undefined, failure: undefined, trialToCome: true } };
  const amount = activation ? Math.max(0, ...activation.stages) : 0;
  const trial = yield* tryOut(wire, bent, firstNeutral, amount);
  if ('reason' in trial) return { curve, yielding: { first, stages: 'first', trial: undefined, failure: trial } };
  const { resets, ...kept } = trial;
  const largestWithoutSet =
    activation && !resets ? yield* largestElastic(wire, trial.neutral.motion, undefined) : undefined;
  return {
    curve,
    yielding: {
      first,
      stages: 'first',
      trial: { ...kept, largestWithoutSet: resets ? 0 : largestWithoutSet },
      failure: undefined,
    },
  };
}

interface Wire {
  readonly design: ApplianceDesign;
  readonly path: InelasticPath;
  readonly placed: readonly PlacedSpan[];
  readonly record: WireRecord;
  readonly lines: { readonly nominal: Centreline; readonly passive: Centreline };
}

function prepare(
  design: ApplianceDesign,
  { spans: elasticSpans, controls: elasticControls }: HeldWire,
  elastic: Curve,
  lines: Wire['lines'],
): Wire {
  const planar = elasticSpans.every(({ held }) => held.span.planar);
  const controls = freshControls(elasticControls);
  const fibres = wireFibres(design, planar);
  const reserve = RESERVE + wirePaidIn(design, elastic);
  const placed: PlacedSpan[] = [];
  const path = createInelasticPath(
    elasticSpans.map(({ held, lawsAmong }) =>
      createInelasticSpan(
        { ...held, span: { ...held.span, planar }, laws: lawsAmong(placed, controls) },
        fibres,
        planar ? planarMesh : spatialMesh,
        reserve,
      ),
    ),
    controls,
    { ...elastic.effort },
  );
  for (const [k, span] of elasticSpans.entries()) placed.push({ ...span, held: path.spans[k].held });
  const spanOf = (one: PlacedSpan) => path.spans.find(({ held }) => held === one.held)!;
  const kernel: Kernel = {
    reactions: (of, span, motion) => inelasticReactions(spanOf(span), of, span, motion),
    stable: (span) => inelasticIsStable(spanOf(span)),
  };
  const record = wireRecord(design, { spans: placed, controls }, lines.passive, kernel);
  return { design, path, placed, record, lines };
}

/**
 * Wire that the motion pays into a span at most, mm, at neutral or at a stage: a yielding neutral lies by less than the elastic one, or
 * by not much more, from the seats. Between two others what is drawn out of one span is paid into the next.
 */
function wirePaidIn({ activation, trialActivation = 0 }: ApplianceDesign, { neutral, stages }: Curve): number {
  const amounts = [0, trialActivation, ...stages.map((stage) => stage.activation)];
  const motions = amounts.map((amount) => 1.2 * (neutral?.motion ?? 0) + amount);
  const inside = activation?.motion.kind === 'pull' && activation.motion.along !== undefined;
  return Math.max(0, ...motions.map((motion) => (inside ? Math.abs(motion) : -motion)));
}

/** mm */
const RESERVE = 2;

function stateOf({ record, path }: Wire, neutral: number, iterations: number): EngagedState {
  const plain = engagedState(record, path.motion, neutral, iterations);
  const { stiffness } = path;
  const dragged: DraggedWire = {
    controls: path.controls,
    balance: () => rebalance(path),
    goBack: () => {
      goBack(path);
      path.stiffness = stiffness;
    },
  };
  const friction = hasFriction(record.design) ? frictionBounds(dragged, record, plain) : undefined;
  const state = friction ? { ...plain, friction } : plain;
  return { ...state, fibreStress: Math.max(...path.spans.map((of) => largestFibreStress(of))) };
}

/** The wire free of its attachments, from its present free curvatures. */
function freeShape({ design, path, placed, lines }: Wire): FreeWire {
  path.controls.amounts.fill(0);
  for (const of of path.spans) {
    setInelasticControls(of, 1, path.controls.amounts);
    of.curvature.set(of.free);
    placeNodes(of);
  }
  return freeWire(design, placed, lines.nominal, lines.passive);
}

/** Into the attachments and, where there is a motion, to neutral; its motion, or why not. */
function engageFree({ design, path, record }: Wire): number | Failure {
  const engaged = seeksNeutral(design) ? engageAtInelasticNeutral(path) : engageInelastically(path);
  if (!engaged.ok) return unsolved(design, path.effort, 0, path.motion, engaged.residual);
  return (
    (design.activation && motionFailure(design, path.motion)) ??
    slotFailure(design, path.motion, slidAmounts(record, path.motion)) ??
    path.motion
  );
}

/** To the given activation and out of the attachments, then in again; `resets`: engaging alone adds to the set. */
function* tryOut(
  wire: Wire,
  bent: FreeWire,
  neutral: number,
  amount: number,
): Generator<undefined, (Omit<TrialActivation, 'largestWithoutSet'> & { readonly resets: boolean }) | Failure> {
  const { design, path } = wire;
  const impossible = motionFailure(design, neutral + amount);
  if (impossible) return fromNeutral(impossible, neutral);
  const outcome: Outcome = advanceInelastically(path, neutral + amount);
  yield;
  if (!outcome.ok) return unsolved(design, path.effort, neutral, neutral + amount, outcome.residual);
  const pulled = stateOf(wire, neutral, 0);
  if (!release(path)) {
    return { reason: 'not-converged', motion: amount, residual: undefined, iterations: path.effort.iterations };
  }
  const free = freeShape(wire);
  const set = takenSet(wire.placed, path.spans);
  path.flow = 0;
  const again = engageFree(wire);
  yield;
  if (typeof again !== 'number') return again;
  return {
    amount,
    pulled,
    neutral: stateOf(wire, again, 0),
    passive: free.passive,
    passiveLoops: free.passiveLoops,
    setTurn: turnBetween(bent.lastSeat, free.lastSeat),
    set,
    resets: path.flow > NO_SET,
  };
}

/** Strain that does not count as set: a tenth of the 0.2 % at which yield strengths are stated. */
const NO_SET = 2e-4;

/** The stages and extra activations, and the activation at which the wire first takes a further set. */
function* followStages(
  wire: Wire,
  neutral: EngagedState,
  asked: readonly number[],
): Generator<undefined, { readonly curve: Curve; readonly onset: number | undefined }> {
  const { design, path } = wire;
  const { activation } = design;
  const stages: StageResult[] = asked.map((amount) => ({ activation: amount, state: undefined, failure: undefined }));
  const rates: (number | undefined)[] = asked.map(() => undefined);
  let onset: number | undefined;
  let at = 0;
  let reach = path.reach;
  path.flow = 0;
  for (const k of visitingOrder(asked, activation?.stages.length ?? 1)) {
    const amount = activation ? asked[k] : 0;
    const motion = neutral.motion + amount;
    const impossible = motionFailure(design, motion);
    const fail = (failure: Failure) => {
      stages[k] = { activation: asked[k], state: undefined, failure };
    };
    if (impossible) {
      fail(fromNeutral(impossible, neutral.motion));
      continue;
    }
    const before = path.effort.iterations;
    if (motion !== path.motion) {
      const outcome = advanceInelastically(path, motion);
      yield;
      if (!outcome.ok) {
        fail(unsolved(design, path.effort, neutral.motion, motion, outcome.residual));
        continue;
      }
      if (onset === undefined && path.flow > NO_SET) onset = crossing(at, amount, reach, path.reach, path.limit);
      at = amount;
      reach = path.reach;
    }
    const slidTooFar = slotFailure(design, motion, slidAmounts(wire.record, motion));
    if (slidTooFar) {
      fail(fromNeutral(slidTooFar, neutral.motion));
      continue;
    }
    const state =
      motion === neutral.motion && k === 0 ? neutral : stateOf(wire, neutral.motion, path.effort.iterations - before);
    stages[k] = { activation: asked[k], state, failure: undefined };
    rates[k] = activation ? path.stiffness : undefined;
  }
  const curve: Curve = { neutral, stages, stiffness: rates, failure: undefined, effort: path.effort };
  return { curve, onset };
}

/** Where the elastic strain passes its limit, by as much as counts as set, between two activations. */
function crossing(from: number, to: number, before: number, after: number, limit: number): number {
  const passed = 1 + NO_SET / limit;
  if (before >= passed || after <= before) return from;
  return from + Math.min(1, (passed - before) / (after - before)) * (to - from);
}

/** Goes on from the present state until the wire takes a further set; undefined within reach of the motion. */
function* largestElastic(
  { design, path }: Wire,
  neutral: number,
  known: number | undefined,
): Generator<undefined, number | undefined> {
  if (known !== undefined) return known;
  let at = path.motion;
  let reach = path.reach;
  let ahead = SEARCH_STEP;
  for (let k = 0; k < MOST_SEARCHED; k++) {
    const next = at + ahead;
    if (motionFailure(design, next) || !advanceInelastically(path, next).ok) return undefined;
    yield;
    if (path.flow > NO_SET) return crossing(at, next, reach, path.reach, path.limit) - neutral;
    // Below the limit strain grows about evenly: on to a little beyond where it will reach it.
    const rate = (path.reach - reach) / ahead;
    at = next;
    reach = path.reach;
    ahead = rate > 0 ? Math.min(LONGEST_SEARCH, (1.1 * (1 - reach)) / rate + 0.1) : SEARCH_STEP;
  }
  return undefined;
}

const MOST_SEARCHED = 12;
/** mm */
const SEARCH_STEP = 0.5;
const LONGEST_SEARCH = 2;
