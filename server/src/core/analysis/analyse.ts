/** The whole analysis of one appliance: engagement, neutral position, activation curve and what is read off it. */
import { type ApplianceDesign, seeksNeutral } from '../design';
import { type Centreline, centreline } from '../geometry/centreline';
import { selfContacts } from '../geometry/contact';
import { developedLength } from '../geometry/developed-length';
import { freeLoopState } from '../geometry/loop-read-outs';
import { freeOutline } from '../geometry/outline';
import { sectionProperties } from '../material/section';
import {
  createPath,
  defaultCriteria,
  engage,
  engageAtNeutral,
  motionOf,
  strictCriteria,
  type WirePath,
} from '../mechanics/continuation';
import { type HeldWire, placeSpans } from '../mechanics/held-wire';
import { defaultMesh, strictMesh } from '../mechanics/mesh';
import { splitsNeeded } from '../mechanics/mesh-check';
import { createControls } from '../mechanics/wire-controls';
import type { AnalysisOptions, ApplianceAnalysis, EngagedState, Failure, StageResult } from './analysis';
import { type Curve, failedCurve, fromNeutral, unsolved, visitingOrder } from './curve';
import { engagedState, slidAmounts, type WireRecord, wireRecord } from './engaged-state';
import { heldFailure, motionFailure, slotFailure, spanFailure } from './feasibility';
import { followYielding, type YieldingCurve } from './follow-yielding';
import { draggedElastically, frictionBounds, hasFriction } from './friction';
import { firstZero } from './interpolation';
import { advanceOnBranch, branchPoint } from './one-branch';
import { hasLaw } from './wire-laws';

/** Runs `analysisSteps` to its end. */
export function analyseAppliance(design: ApplianceDesign, options: Partial<AnalysisOptions> = {}): ApplianceAnalysis {
  const steps = analysisSteps(design, options);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/** Yields the analysis as far as it goes where only a trial activation follows that the file does not ask for, else nothing. */
export type AnalysisSteps = Generator<ApplianceAnalysis | undefined, ApplianceAnalysis>;

/** The analysis in slices: yields after every equilibrium, so that a caller can pause it or drop it. */
export function* analysisSteps(design: ApplianceDesign, options: Partial<AnalysisOptions> = {}): AnalysisSteps {
  const nominal = centreline(design.elements, design.start, 0);
  const passive = centreline(design.elements, design.start, 1);
  const nominalOutline = freeOutline(nominal);
  const section = sectionProperties(design.section);
  const round = design.section.kind === 'round';
  const free = {
    developedLength: developedLength(design.elements),
    nominal: nominalOutline,
    passive: freeOutline(passive),
    nominalLoops: design.loops.map((loop) => freeLoopState(loop, nominal, nominal)),
    passiveLoops: design.loops.map((loop) => freeLoopState(loop, passive, nominal)),
  };
  const nominalContacts = selfContacts(nominalOutline, section, round, design.elements);
  const failure =
    heldFailure(design) ?? slotFailure(design, 0) ?? (design.activation ? undefined : spanFailure(design, 0));
  const enough = isFollowed(design, options) ? (state: EngagedState) => leavesElastic(design, state) : undefined;
  let elastic = failure
    ? { curve: failedCurve(failure), wire: { spans: [], controls: createControls([]) } }
    : yield* solveCurve(design, nominal, passive, options, enough);
  const asFollowed = (followed: YieldingCurve | Failure | undefined): ApplianceAnalysis => {
    const beyond = followed && 'curve' in followed ? followed : undefined;
    const curve = beyond?.curve ?? elastic.curve;
    const solved = curve.stages.slice(0, design.activation?.stages.length ?? 1).flatMap(({ state }) => state ?? []);
    return {
      ...free,
      neutral: curve.neutral,
      stages: curve.stages,
      failure: curve.failure,
      parallelLegs: design.loops.map((_, k) => parallelLegs(solved, k)),
      firstYield:
        beyond?.yielding.stages === 'after-trial'
          ? within(beyond.yielding.trial?.largestWithoutSet, solved)
          : firstYield(solved),
      stiffness: curve.stiffness,
      contacts: {
        nominal: nominalContacts,
        neutral: curve.neutral ? selfContacts(curve.neutral.outline, section, round, design.elements) : [],
      },
      effort: { ...curve.effort },
      ...(beyond && { yielding: beyond.yielding }),
      ...(followed && !beyond && { unfollowed: followed as Failure }),
    };
  };
  const following = yieldingCurve(design, elastic, { nominal, passive }, options);
  for (;;) {
    const { done, value } = following.next();
    // What is shown then is the elastic curve, as far as it goes.
    if (done && enough && value && 'reason' in value) elastic = yield* solveCurve(design, nominal, passive, options);
    if (done) return asFollowed(value);
    yield value && asFollowed(value);
  }
}

/** The curve again with the history of the sections, where the wire yields or is tried out; a failure where it cannot be followed. */
function* yieldingCurve(
  design: ApplianceDesign,
  { curve, wire }: SolvedCurve,
  lines: { readonly nominal: Centreline; readonly passive: Centreline },
  options: Partial<AnalysisOptions>,
): Generator<YieldingCurve | undefined, YieldingCurve | Failure | undefined> {
  if (!isFollowed(design, options) || !curve.neutral) return undefined;
  const states = [curve.neutral, ...curve.stages.flatMap(({ state }) => state ?? [])];
  if (!states.some((state) => leavesElastic(design, state))) return undefined;
  return yield* followYielding(design, wire, curve, lines, options);
}

/** Whether a state of the elastic curve asks for the history of the sections: it yields, or is tried out. */
function leavesElastic({ trialActivation }: ApplianceDesign, { elasticUse }: EngagedState): boolean {
  return elasticUse > 1 || trialActivation !== undefined;
}

function isFollowed(design: ApplianceDesign, { yielding }: Partial<AnalysisOptions>): boolean {
  return hasLaw(design) && yielding !== 'elastic';
}

interface SolvedCurve {
  readonly curve: Curve;
  readonly wire: HeldWire;
}

/** An activation, where the stages reach it. */
function within(activation: number | undefined, states: readonly EngagedState[]): number | undefined {
  return states.some((state) => activation !== undefined && state.activation >= activation) ? activation : undefined;
}

/**
 * Solves the curve up to the first state that is `enough`, if any; again on a finer mesh where the first one turns out too
 * coarse for the wire's deformation.
 */
function* solveCurve(
  design: ApplianceDesign,
  nominal: Centreline,
  passive: Centreline,
  options: Partial<AnalysisOptions>,
  enough: (state: EngagedState) => boolean = () => false,
): Generator<undefined, SolvedCurve> {
  const rule = options.mesh === 'strict' ? strictMesh : defaultMesh;
  const criteria = options.mesh === 'strict' ? strictCriteria : defaultCriteria;
  const effort = { solves: 0, iterations: 0 };
  let splits: readonly (readonly number[])[] = [];
  for (let round = 0; ; round++) {
    const { spans, controls } = placeSpans(design, nominal, options.compliance ?? 'full', rule, splits);
    const path = createPath(
      spans.map(({ held }) => held),
      controls,
      criteria,
      effort,
    );
    const finer = { splits: splits, needed: false };
    const watch = () => {
      const now = splitsNeeded(spans, rule, finer.splits);
      if (now) {
        finer.splits = now;
        finer.needed = true;
      }
      return finer.needed && round < MOST_SPLITS;
    };
    const record = wireRecord(design, { spans, controls }, passive);
    const curve = yield* followCurve(design, path, record, options, watch, enough);
    if (curve) return { curve, wire: { spans, controls } };
    splits = finer.splits;
  }
}

const MOST_SPLITS = 3;

/** Stiffness along the motion that the solver leaves where there is none, N/mm. */
const NOISE = 1e-6;

/** One pass over the curve, up to a state that is `enough`; undefined where `tooCoarse` asks for another mesh. */
function* followCurve(
  design: ApplianceDesign,
  path: WirePath,
  record: WireRecord,
  options: Partial<AnalysisOptions>,
  tooCoarse: () => boolean,
  enough: (state: EngagedState) => boolean,
): Generator<undefined, Curve | undefined> {
  const { activation } = design;
  const engaged = seeksNeutral(design) ? engageAtNeutral(path) : engage(path);
  yield;
  if (!engaged.ok) return failedCurve(unsolved(design, path.effort, 0, motionOf(path), engaged.residual), path.effort);
  if (tooCoarse()) return undefined;
  const neutralMotion = motionOf(path);
  const beyond =
    (activation && motionFailure(design, neutralMotion)) ??
    slotFailure(design, neutralMotion, slidAmounts(record, neutralMotion));
  if (beyond) return failedCurve(beyond, path.effort);
  const rubs = hasFriction(design);
  const withFriction = (state: EngagedState): EngagedState => {
    const friction = rubs ? frictionBounds(draggedElastically(path), record, state) : undefined;
    return friction ? { ...state, friction } : state;
  };
  const atNeutral = withFriction(engagedState(record, neutralMotion, neutralMotion, path.effort.iterations));
  // Let go along the motion, the wire stays at neutral only where it resists being moved away.
  const neutral = activation && path.stiffness < -NOISE ? { ...atNeutral, stable: false } : atNeutral;
  const asked = [...(activation?.stages ?? [0]), ...(options.extraActivations ?? [])];
  const stages: StageResult[] = asked.map((amount) => ({ activation: amount, state: undefined, failure: undefined }));
  const rates: (number | undefined)[] = asked.map(() => undefined);
  const branch = branchPoint(path);
  let snapped: number | undefined;
  let isEnough = enough(neutral);
  for (const k of visitingOrder(asked, activation?.stages.length ?? 1)) {
    if (isEnough) break;
    const amount = activation ? asked[k] : 0;
    const motion = neutralMotion + amount;
    const impossible = motionFailure(design, motion);
    if (impossible) {
      stages[k] = { activation: asked[k], state: undefined, failure: fromNeutral(impossible, neutralMotion) };
      continue;
    }
    const before = path.effort.iterations;
    const outcome = advanceOnBranch(path, branch, motion);
    yield;
    if (outcome.ok && outcome.snapped !== undefined) snapped ??= outcome.snapped - neutralMotion;
    if (snapped !== undefined) {
      // What lies beyond a fold is another shape; it is not passed off as this one.
      stages[k] = { activation: asked[k], state: undefined, failure: { reason: 'snaps', motion: snapped } };
      continue;
    }
    if (!outcome.ok) {
      stages[k] = {
        activation: asked[k],
        state: undefined,
        failure: unsolved(design, path.effort, neutralMotion, motion, outcome.residual),
      };
      continue;
    }
    if (tooCoarse()) return undefined;
    const slidTooFar = slotFailure(design, motion, slidAmounts(record, motion));
    if (slidTooFar) {
      stages[k] = { activation: asked[k], state: undefined, failure: fromNeutral(slidTooFar, neutralMotion) };
      continue;
    }
    const state =
      motion === neutralMotion
        ? atNeutral
        : withFriction(engagedState(record, motion, neutralMotion, path.effort.iterations - before));
    stages[k] = { activation: asked[k], state, failure: undefined };
    rates[k] = activation ? path.stiffness : undefined;
    isEnough = enough(state);
  }
  return { neutral, stages, stiffness: rates, failure: undefined, effort: path.effort };
}

function parallelLegs(states: readonly EngagedState[], loop: number): number | undefined {
  return firstZero(
    states.map((state) => state.activation),
    states.map((state) => state.loops[loop].legAngle),
  );
}

/** The first stage itself where it is past yield already. */
function firstYield(states: readonly EngagedState[]): number | undefined {
  if (states.length > 0 && states[0].elasticUse >= 1) return states[0].activation;
  return firstZero(
    states.map((state) => state.activation),
    states.map((state) => state.elasticUse - 1),
  );
}
