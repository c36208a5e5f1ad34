/** Following the wire's equilibrium: from nominal seats into its own, and along the activation. */
import { type HeldSpan, setControls } from './held-span';
import { clear, createHistory, extrapolate, type History, recall, remember } from './history';
import { newtonStep, spanLength, step } from './newton';
import { bringToRest, type Controls } from './relaxation';
import { relax, restoreState, type Span, saveState, stateSize } from './span';
import { isStable } from './stability';
import { beginContacts } from './supports/interior-point';
import type { WireControls } from './wire-controls';

/** When a Newton iteration counts as converged; each bounds the last step taken, whose error is of its square. */
export interface Criteria {
  /** rad */
  readonly rotation: number;
  /** mm */
  readonly displacement: number;
  /** Change of end forces and moments, relative. */
  readonly force: number;
  /** mm of the motion, where it is unknown, and of wire that slides. */
  readonly motion: number;
}

export const defaultCriteria: Criteria = { rotation: 1e-3, displacement: 1e-2, force: 1e-2, motion: 1e-3 };
export const strictCriteria: Criteria = { rotation: 1e-9, displacement: 1e-9, force: 1e-6, motion: 1e-9 };

/** What stiff contacts leave of a wire that is free to float a little between them, by rounding. */
const touchingCriteria: Criteria = { rotation: 1e-7, displacement: 1e-7, force: 1e-6, motion: 1e-7 };

function atLeast(a: Criteria, b: Criteria): Criteria {
  return {
    rotation: Math.max(a.rotation, b.rotation),
    displacement: Math.max(a.displacement, b.displacement),
    force: Math.max(a.force, b.force),
    motion: Math.max(a.motion, b.motion),
  };
}

/** An equilibrium path of one wire: its spans with shared controls. */
export interface WirePath {
  readonly spans: readonly HeldSpan[];
  readonly controls: WireControls;
  readonly criteria: Criteria;
  /** Force along the motion per mm at the present state, N/mm. */
  stiffness: number;
  readonly effort: { solves: number; iterations: number };
  readonly history: History;
}

export function createPath(
  spans: readonly HeldSpan[],
  controls: WireControls,
  criteria: Criteria,
  effort: { solves: number; iterations: number },
): WirePath {
  return {
    spans,
    controls,
    criteria: touches({ spans }) ? atLeast(criteria, touchingCriteria) : criteria,
    stiffness: 0,
    effort,
    history: createHistory(spans, controls),
  };
}

/** Motion at the present state, mm. */
export function motionOf({ controls }: WirePath): number {
  return controls.amounts[0];
}

export type Outcome =
  /** `snapped`: where on the motion, mm, the path folded and the wire came to rest in another shape. */
  { readonly ok: true; readonly snapped: number | undefined } | { readonly ok: false; readonly residual: Residual };

/** What is left where no equilibrium is found: a gap in the wire's turn, rad, or a force along the motion, N. */
export type Residual = { readonly turn: number } | { readonly force: number };

/** From the nominal wire in nominal seats to the wire with all its preactivation in the attachments' own poses. */
export function engage(path: WirePath): Outcome {
  return engageBy(path, false, true);
}

/** The state of a path of the same wire, to set out from. */
export interface PathState {
  readonly states: readonly Float64Array[];
  readonly amounts: Float64Array;
}

export function pathState(path: WirePath): PathState {
  return keep(path);
}

/** Whether a path has the same nodes and controls as the one that a state is of. */
export function fits({ spans, controls }: WirePath, { states, amounts }: PathState): boolean {
  return (
    amounts.length === controls.amounts.length &&
    states.length === spans.length &&
    spans.every(({ span }, k) => stateSize(span) === states[k].length)
  );
}

/** From the state of a path that differs a little in where its attachments stand, all of its preactivation in it. */
export function engageFrom(path: WirePath, from: PathState): Outcome {
  putBack(path, from);
  path.controls.amounts[0] = 0;
  for (const held of path.spans) setControls(held, 1, path.controls.amounts);
  restart(path);
  return advanceTo(path, 0);
}

/** The same with the motion let go, so that no force acts along it: this leads to the neutral position. */
export function engageAtNeutral(path: WirePath): Outcome {
  // What supports the wire takes hold and lets go where it moves: the motion that is free meets corners of its force at every step.
  const supported = path.spans.some(({ drives }) => drives.some(({ moved }) => moved !== undefined));
  const direct = supported ? undefined : engageBy(path, true, false);
  if (direct?.ok) return direct;
  const held = engageBy(path, false, true);
  return held.ok ? seekNeutral(path) : held;
}

function engageBy(path: WirePath, balance: boolean, rest: boolean): Outcome {
  path.controls.amounts.fill(0);
  for (const held of path.spans) {
    setControls(held, 0, path.controls.amounts);
    relax(held.span);
  }
  clear(path.history);
  remember(path.history, path.spans, 0, path.controls);
  const outcome = follow(path, (share) => ({ share, motion: motionOf(path) }), balance, rest);
  // From here on the share stays 1, and what was before tells nothing about the motion.
  restart(path);
  // A fold on this way is none that the wire passes on its own: the way is only ours.
  return outcome.ok ? { ok: true, snapped: undefined } : outcome;
}

/** Along the motion to the given amount, at full preactivation, in as many steps as it takes. */
export function advanceTo(path: WirePath, motion: number): Outcome {
  const start = motionOf(path);
  return follow(path, (part) => ({ share: 1, motion: start + part * (motion - start) }), false, true);
}

/** Along the motion, down its force, until that vanishes in a state in which the wire would stay. */
function seekNeutral(path: WirePath): Outcome {
  for (let k = 0; k < MOST_SEEKING_STEPS; k++) {
    const { alongMotion, stiffness } = step;
    const aim = stiffness > 0 ? -alongMotion / stiffness : -Math.sign(alongMotion) * SEEKING_STEP;
    if (Math.abs(aim) < path.criteria.motion) return { ok: true, snapped: undefined };
    if (solve(path, 1, motionOf(path), true, false) > 0 && path.spans.every(isStable)) {
      restart(path);
      return { ok: true, snapped: undefined };
    }
    goBack(path, 1);
    const outcome = advanceTo(path, motionOf(path) + Math.max(-SEEKING_STEP, Math.min(SEEKING_STEP, aim)));
    if (!outcome.ok) return outcome;
  }
  return { ok: false, residual: { force: Math.abs(step.alongMotion) } };
}

const SEEKING_STEP = 1;
const MOST_SEEKING_STEPS = 60;

function restart(path: WirePath): void {
  clear(path.history);
  remember(path.history, path.spans, motionOf(path), path.controls);
}

const SMALLEST_ADVANCE = 0.02;
const MOST_ITERATIONS = 12;
/** How far ahead the wire is let come to rest, the first that works. */
const RESTS = [0.3, 0.1, 0.03, 0.01];

/**
 * Follows the controls given for 0 to 1, the present state being that of 0. Steps grow after easy solutions and
 * shrink after hard ones. Where they become too small, or lead to a state in which the wire would not stay, it may be let
 * come to `rest` some way ahead.
 */
function follow(path: WirePath, controlsAt: (part: number) => Controls, balance: boolean, rest: boolean): Outcome {
  const { history, spans } = path;
  // Contacts take about a dozen to be found, however near.
  const [few, many] = touches(path) ? [16, 30] : [4, 6];
  let done = 0;
  let advance = 1;
  let snapped: number | undefined;
  let acceptUnstable = false;
  for (;;) {
    const part = done + advance > 0.95 ? 1 : done + advance;
    const { share, motion } = controlsAt(part);
    const place = balance ? part : motion;
    extrapolate(history, spans, place, path.controls);
    const iterations = solve(path, share, motion, balance, rest && !acceptUnstable);
    const wanted = !rest || acceptUnstable || spans.every(isStable);
    if (iterations > 0 && wanted) {
      remember(history, spans, place, path.controls);
      done = part;
      if (done === 1) return { ok: true, snapped };
      if (iterations <= few) advance *= 1.7;
      else if (iterations > many) advance *= 0.7;
      continue;
    }
    goBack(path, controlsAt(done).share);
    if (iterations === 0) {
      advance *= 0.35;
      if (advance >= SMALLEST_ADVANCE) continue;
    }
    const residual = { turn: step.defectRotation };
    const reached = rest
      ? restAhead(path, controlsAt, done, iterations > 0 ? [part - done, ...RESTS] : RESTS)
      : undefined;
    if (reached) {
      if (reached.snapped) snapped ??= controlsAt(done).motion;
      done = reached.part;
      if (done === 1) return { ok: true, snapped };
      advance = 0.1;
    } else if (iterations > 0) {
      // A state that cannot be left for a stable one is shown for what it is.
      acceptUnstable = true;
    } else {
      return { ok: false, residual };
    }
  }
}

function goBack(path: WirePath, share: number): void {
  recall(path.history, path.spans, path.controls);
  for (const held of path.spans) setControls(held, share, path.controls.amounts);
}

/**
 * Lets the wire come to rest some way ahead of the latest equilibrium. It has `snapped` where going back from there
 * does not lead to that equilibrium.
 */
function restAhead(
  path: WirePath,
  controlsAt: (part: number) => Controls,
  done: number,
  aheads: readonly number[],
): { readonly part: number; readonly snapped: boolean } | undefined {
  const { spans, history } = path;
  const before = controlsAt(done);
  for (const ahead of aheads) {
    const part = Math.min(1, done + ahead);
    const { share, motion } = controlsAt(part);
    goBack(path, before.share);
    const taken = bringToRest(spans, path.controls, (f) => controlsAt(done + f * (part - done)));
    path.effort.iterations += taken;
    if (taken === 0 || iterate(path, share, motion, false, MOST_IN_CONTACT, true) === 0 || !spans.every(isStable))
      continue;
    const amounts = path.controls.amounts.slice();
    const rested = spans.map(({ span }) => stateOf(span));
    const back = solve(path, before.share, before.motion, false, true) > 0;
    const snapped = !back || spans.some(({ span }, k) => moved(span, history.entries[0].states[k]));
    for (const [k, { span }] of spans.entries()) restoreState(span, rested[k]);
    path.controls.amounts.set(amounts);
    for (const held of spans) setControls(held, share, amounts);
    restart(path);
    return { part, snapped };
  }
  goBack(path, before.share);
  return undefined;
}

/** Whether a node stands more than 1 % of the wire's length from where a stored state has it. */
function moved(span: Span, state: Float64Array): boolean {
  const from = span.u.length + span.rotation.length;
  const limit = 0.01 * spanLength(span);
  return span.position.some((x, k) => Math.abs(x - state[from + k]) > limit);
}

/** Newton at the given controls; iterations taken, 0 where it does not converge. */
function solve(path: WirePath, share: number, motion: number, balance: boolean, resting: boolean): number {
  if (!touches(path)) return iterate(path, share, motion, balance, MOST_ITERATIONS, resting);
  return iterate(path, share, motion, balance, MOST_IN_CONTACT, resting);
}

const MOST_IN_CONTACT = 60;

function touches({ spans }: Pick<WirePath, 'spans'>): boolean {
  return spans.some(({ laws }) => laws.length > 0);
}

function keep({ spans, controls }: WirePath): PathState {
  return { states: spans.map(({ span }) => stateOf(span)), amounts: controls.amounts.slice() };
}

function putBack(path: WirePath, { states, amounts }: PathState): void {
  const { spans, controls } = path;
  for (const [k, { span }] of spans.entries()) restoreState(span, states[k]);
  controls.amounts.set(amounts);
}

function stateOf(span: Span): Float64Array {
  const state = new Float64Array(stateSize(span));
  saveState(span, state);
  return state;
}

function iterate(
  path: WirePath,
  share: number,
  motion: number,
  balance: boolean,
  most: number,
  resting: boolean,
): number {
  const { spans, controls } = path;
  controls.amounts[0] = motion;
  for (const held of spans) setControls(held, share, controls.amounts);
  beginContacts(controls.contacts);
  let defect = Number.POSITIVE_INFINITY;
  path.effort.solves++;
  for (let k = 1; k <= most; k++) {
    newtonStep(spans, controls, balance, resting);
    path.effort.iterations++;
    path.stiffness = step.stiffness;
    if (!step.ok || step.share * step.rotation > 2 || step.displacement > 1e3) return 0;
    const now = step.defectRotation + step.defectDisplacement;
    if (k > 3 && now > 2 * defect && now > 0.1) return 0;
    defect = now;
    if (hasConverged(path.criteria)) return k;
  }
  return 0;
}

function hasConverged(criteria: Criteria): boolean {
  return (
    step.rotation < criteria.rotation &&
    step.displacement < criteria.displacement &&
    step.force < criteria.force &&
    step.control < criteria.motion &&
    !step.contactChanged &&
    step.defectRotation < 0.1
  );
}
