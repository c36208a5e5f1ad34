/** Following a wire whose sections yield: engagement, activation, release. History is committed at every equilibrium. */
import { strainAtMost } from '../../material/fibre-history';
import type { FibreSection } from '../../material/fibre-section';
import { commit, committed, reachOfLimit } from '../../material/fibre-slip';
import { sectionAnswer, type TwistedAnswer, twistedAnswer } from '../../material/section-moments';
import type { TwistedSection } from '../../material/twisted-section';
import { elasticLimit } from '../../material/uniaxial-law';
import { factorise, solveFactorised } from '../../math/dense';
import type { Outcome, Residual } from '../continuation';
import { restoreState, saveState, stateSize } from '../span';
import { beginContacts } from '../supports/interior-point';
import type { WireControls } from '../wire-controls';
import { inelasticStep, taken } from './inelastic-newton';
import {
  type InelasticSpan,
  layFree,
  sectionAt,
  sectionStrain,
  setInelasticControls,
  twistedSectionAt,
} from './inelastic-span';
import { passOn, standAt } from './passing-nodes';
import { keepArms, liesInSlot, noteStrainAtEdge, waysToNextPlace } from './slot-edge';
import { placeNodes } from './sweep';

export interface InelasticPath {
  readonly spans: readonly InelasticSpan[];
  readonly controls: WireControls;
  /** Something supports it on its way. */
  readonly touches: boolean;
  /** Motion at the present state, mm, and the force along it per mm, N/mm. */
  readonly motion: number;
  stiffness: number;
  /** Set taken since it was last put to nought: sum over equilibria of the largest change of a fibre's history, strain. */
  flow: number;
  /** Of the last equilibrium, largest elastic strain of a fibre over the one at which it flows; above 1, it did. */
  reach: number;
  /** That strain, of that fibre. */
  limit: number;
  /** Moment about side at which the weakest section first yields, N mm. */
  readonly leastYieldMoment: number;
  readonly effort: { solves: number; iterations: number };
  /** The latest equilibrium, to go back to. */
  readonly kept: readonly {
    readonly state: Float64Array;
    readonly curvature: Float64Array;
    /** At which its supports stand. */
    readonly nodes: Int32Array;
  }[];
  readonly keptAmounts: Float64Array;
  keptShare: number;
}

export function createInelasticPath(
  spans: readonly InelasticSpan[],
  controls: WireControls,
  effort: { solves: number; iterations: number },
): InelasticPath {
  return {
    spans,
    controls,
    touches: spans.some(({ held }) => held.laws.length > 0),
    get motion() {
      return controls.amounts[0];
    },
    stiffness: 0,
    flow: 0,
    reach: 0,
    limit: Number.POSITIVE_INFINITY,
    leastYieldMoment: Math.min(...spans.flatMap(({ sections }) => sections.map(yieldMoment))),
    effort,
    keptAmounts: controls.amounts.slice(),
    keptShare: 0,
    kept: spans.map(({ span, curvature }) => ({
      state: new Float64Array(stateSize(span)),
      curvature: new Float64Array(curvature.length),
      nodes: new Int32Array(span.supports?.nodes.length ?? 0),
    })),
  };
}

function yieldMoment({ law, stiffnessSide, farUp }: FibreSection): number {
  return (elasticLimit(law) * stiffnessSide) / farUp;
}

/**
 * From the free wire, as bent or as last released, into its attachments: its free curvature grows from the nominal to
 * its own while the attachments hold it, so that every section is bent one way only. The motion grows to `motion` along
 * with it.
 */
export function engageInelastically(path: InelasticPath, motion = 0): Outcome {
  lay(path);
  return follow(path, (share) => ({ share, motion: share * motion }), false);
}

/**
 * The same with the motion let go, so that the wire draws itself through as it is engaged and no force ever acts along it.
 * What yields depends on the way; this is the way of a wire that lies loose in its tube until it is cinched.
 */
export function engageAtInelasticNeutral(path: InelasticPath): Outcome {
  const before = path.spans.map(({ history }) => history.slice());
  const { flow } = path;
  let outcome: Outcome | undefined;
  for (const stretches of STRETCHES) {
    if (outcome) {
      path.flow = flow;
      for (const [k, { history }] of path.spans.entries()) history.set(before[k]);
    }
    lay(path);
    outcome =
      stretches === 1
        ? follow(path, (share) => ({ share, motion: path.motion }), true)
        : engageByTurns(path, stretches);
    if (outcome.ok) break;
  }
  return outcome!;
}

/** The way at once, and where that is too hard to follow by turns in so many stretches. */
const STRETCHES = [1, 16, 64];

/** Near to the same way: held and let go by turns, in short stretches of it. */
function engageByTurns(path: InelasticPath, stretches: number): Outcome {
  for (let k = 0; k < stretches; k++) {
    const { motion } = path;
    const held = follow(path, (part) => ({ share: (k + part) / stretches, motion }), false);
    if (!held.ok) return held;
    const letGo = follow(path, () => ({ share: (k + 1) / stretches, motion: path.motion }), true);
    if (!letGo.ok) return letGo;
  }
  return { ok: true, snapped: undefined };
}

function lay(path: InelasticPath): void {
  path.controls.amounts.fill(0);
  for (const of of path.spans) {
    standAt(of, of.places);
    setInelasticControls(of, 0, path.controls.amounts);
    layFree(of);
    placeNodes(of);
    keepArms(of);
  }
  keep(path);
}

/** Along the motion to the given amount. */
export function advanceInelastically(path: InelasticPath, motion: number): Outcome {
  const start = path.motion;
  return follow(path, (part) => ({ share: 1, motion: start + part * (motion - start) }), false);
}

/** Finds the present equilibrium anew, from the history as it was last committed and without adding to it. */
export function rebalance(path: InelasticPath): boolean {
  return solve(path, path.spans[0].held.share, path.motion, false) > 0;
}

/**
 * Takes the wire out of its attachments: no moment in any section. What is left of the bends becomes the wire's free
 * shape. False where a section finds no such curvature.
 */
export function release(path: InelasticPath): boolean {
  for (const of of path.spans) {
    of.coupled.fill(0);
    standAt(of, of.places);
    for (let point = 0; point < 2 * of.span.mesh.steps; point++) {
      commitStrainAtEdge(of, point);
      if (!releaseSection(of, point)) return false;
    }
    commitSlipping(path, of);
    of.free.set(of.curvature);
    of.held.share = Number.NaN;
    of.span.u.fill(0);
    placeNodes(of);
  }
  return true;
}

const answer = sectionAnswer();

/**
 * First elastically, then by Newton's method. Moments grow with curvature throughout, but a step off a plateau may lead over the elastic
 * range to the other one: it is halved where the moments oppose it with more than half of what they asked for it with.
 */
function releaseSection(of: InelasticSpan, point: number): boolean {
  if (of.twisted) return releaseTwistedSection(of, of.twisted[point >> 1], point);
  const { curvature } = of;
  const { stiffnessSide } = of.sections[point >> 1];
  const at = 3 * point + 2;
  sectionAt(of, point, answer);
  let asked = answer.momentSide;
  let step = -asked / stiffnessSide;
  curvature[at] += step;
  const enough = 1e-9 * stiffnessSide * Math.max(1e-3, Math.abs(curvature[at]));
  for (let k = 0; k < MOST_LOCAL; k++) {
    sectionAt(of, point, answer);
    const { momentSide, sideSide } = answer;
    if (Math.abs(momentSide) < enough) return true;
    if (asked * momentSide < -0.5 * asked * asked) {
      step /= 2;
      curvature[at] -= step;
      continue;
    }
    if (!(sideSide > 0)) return false;
    asked = momentSide;
    step = -momentSide / sideSide;
    curvature[at] += step;
  }
  return false;
}

function releaseTwistedSection(of: InelasticSpan, section: TwistedSection, point: number): boolean {
  const { curvature } = of;
  const { stiffnessUp, stiffnessSide, torsion } = section;
  const at = 3 * point;
  const own = twisted;
  twistedSectionAt(of, section, point, own);
  change[0] = -own.torque / torsion.stiffness;
  change[1] = -own.momentUp / stiffnessUp;
  change[2] = -own.momentSide / stiffnessSide;
  let asked = along(change, own);
  for (let c = 0; c < 3; c++) curvature[at + c] += change[c];
  const size = Math.hypot(curvature[at], curvature[at + 1], curvature[at + 2]);
  const enough = 1e-9 * (stiffnessUp + stiffnessSide) * Math.max(1e-3, size);
  for (let k = 0; k < MOST_LOCAL; k++) {
    twistedSectionAt(of, section, point, own);
    const { torque, momentUp, momentSide, twistTwist, twistUp, twistSide, upUp, upSide, sideSide } = own;
    if (Math.abs(torque) + Math.abs(momentUp) + Math.abs(momentSide) < enough) return true;
    if (along(change, own) > -0.5 * asked) {
      for (let c = 0; c < 3; c++) {
        change[c] /= 2;
        curvature[at + c] -= change[c];
      }
      asked /= 2;
      continue;
    }
    tangent.set([twistTwist, twistUp, twistSide, twistUp, upUp, upSide, twistSide, upSide, sideSide]);
    change.set([-torque, -momentUp, -momentSide]);
    if (factorise(tangent, 3, pivots) === 0) return false;
    solveFactorised(tangent, 3, pivots, change);
    asked = along(change, own);
    for (let c = 0; c < 3; c++) curvature[at + c] += change[c];
  }
  return false;
}

/** What the moments bear along a change of curvature; negative where they ask for it. */
function along(change: Float64Array, { torque, momentUp, momentSide }: TwistedAnswer): number {
  return change[0] * torque + change[1] * momentUp + change[2] * momentSide;
}

const twisted = twistedAnswer();
const tangent = new Float64Array(9);
const change = new Float64Array(3);
const pivots = new Int32Array(3);

const MOST_LOCAL = 60;

/**
 * When an equilibrium counts as found, by the last Newton step, whose error is of its square; `unbalanced`: the share of the yield
 * moment by which sections were out of balance before it. Contacts are stiff, and ask for more.
 */
const USUAL = { unbalanced: 2e-3, rotation: 1e-3, displacement: 1e-2, force: 1e-2, control: 1e-3 };
const TOUCHING = { unbalanced: 2e-4, rotation: 1e-6, displacement: 1e-6, force: 1e-5, control: 1e-6 };
const MOST_ITERATIONS = 25;
const MOST_IN_CONTACT = 60;
const SMALLEST_ADVANCE = 0.005;
/** The same where wire passes a slot's edge past yield: more at once than that is a snap. */
const SMALLEST_PASSAGE = 1e-3;
/** Of supports from node to node at one equilibrium. */
const MOST_PASSES = 4;

function follow(
  path: InelasticPath,
  controlsAt: (part: number) => { readonly share: number; readonly motion: number },
  balance: boolean,
): Outcome {
  // Contacts take about a dozen to be found, however near.
  const [few, many] = path.touches ? [16, 30] : [6, 10];
  let done = 0;
  let advance = 1;
  // To where the next place passes a slot's edge past yield.
  let most = Number.POSITIVE_INFINITY;
  for (;;) {
    const way = Math.min(advance, most);
    const part = done + 1.05 * way > 1 ? 1 : done + way;
    const { share, motion } = controlsAt(part);
    const iterations = solve(path, share, motion, balance);
    if (iterations > 0) {
      most = (part - done) * waysToNextPlace(path.spans, false);
      if (most < 0.92 * (part - done) && part - done > SMALLEST_PASSAGE) {
        goBack(path);
        continue;
      }
      most = (part - done) * waysToNextPlace(path.spans, true);
      keep(path);
      for (let k = 0; k < MOST_PASSES && passOnAll(path); k++) {
        if (solve(path, share, motion, balance) > 0) keep(path);
        else {
          goBack(path);
          break;
        }
      }
      commitAll(path);
      path.spans.forEach(keepArms);
      done = part;
      if (done === 1) return { ok: true, snapped: undefined };
      if (iterations > many) advance = 0.7 * way;
      else if (iterations <= few && way === advance) advance *= 1.7;
      continue;
    }
    const residual: Residual = { turn: taken.defectRotation };
    goBack(path);
    advance = 0.4 * way;
    if (advance < SMALLEST_ADVANCE * Math.min(1, most)) return { ok: false, residual };
  }
}

/** Passes supports on to nodes that are nearer to them; true where one was. */
function passOnAll({ spans }: InelasticPath): boolean {
  let passed = false;
  for (const of of spans) if (passOn(of)) passed = true;
  return passed;
}

/** Newton at the given controls; iterations taken, 0 where it does not converge. */
function solve(path: InelasticPath, share: number, motion: number, balance: boolean): number {
  const { spans } = path;
  const { amounts } = path.controls;
  amounts[0] = motion;
  for (const of of spans) setInelasticControls(of, share, amounts);
  path.effort.solves++;
  const { rotation, displacement, force, control, unbalanced } = path.touches ? TOUCHING : USUAL;
  beginContacts(path.controls.contacts);
  let before = Number.POSITIVE_INFINITY;
  for (let k = 1; k <= (path.touches ? MOST_IN_CONTACT : MOST_ITERATIONS); k++) {
    inelasticStep(spans, path.controls, balance, before);
    before = taken.rotation;
    path.effort.iterations++;
    path.stiffness = taken.stiffness;
    if (!taken.ok || taken.share * taken.rotation > 2 || taken.displacement > 1e3) return 0;
    if (
      taken.unbalanced < unbalanced * path.leastYieldMoment &&
      taken.rotation < rotation &&
      taken.displacement < displacement &&
      taken.force < force &&
      taken.control < control &&
      !taken.contactChanged &&
      !taken.halved &&
      taken.defectRotation < 0.1
    ) {
      return k;
    }
  }
  return 0;
}

function commitAll(path: InelasticPath): void {
  path.reach = 0;
  path.flow += Math.max(...path.spans.map((of) => commitSlipping(path, of)));
  // Where nothing slips, how near it is to that is asked for all the same.
  if (path.reach < 1) findReach(path);
}

/** Makes the state the history of the sections in which fibres may slip; largest slip of one, strain. */
function commitSlipping(path: InelasticPath, of: InelasticSpan): number {
  const { span, strainAtEdge } = of;
  let largest = 0;
  for (let point = 0; point < 2 * span.mesh.steps; point++) {
    // Wire that lies in a slot keeps what it had as it was drawn there.
    if (span.mesh.h[point >> 1] === 0) {
      largest = Math.max(largest, commitStrainAtEdge(of, point));
      continue;
    }
    if (!liesInSlot(of, point)) {
      strainAtEdge[3 * point] = Number.NaN;
      noteStrainAtEdge(of, point);
    }
    if (reachAtMost(of, point) > 1) largest = Math.max(largest, lookAt(path, of, point));
  }
  return largest;
}

/** Finds the section that has come furthest in its elastic range. */
function findReach(path: InelasticPath): void {
  // With the one looked at that may have come furthest, few others can have come further.
  let [likely, at, most] = [path.spans[0], 0, -1];
  for (const of of path.spans) {
    for (let point = 0; point < 2 * of.span.mesh.steps; point++) {
      const reach = reachAtMost(of, point);
      if (reach > most) [likely, at, most] = [of, point, reach];
    }
  }
  lookAt(path, likely, at);
  for (const of of path.spans) {
    for (let point = 0; point < 2 * of.span.mesh.steps; point++) {
      if (reachAtMost(of, point) > path.reach) lookAt(path, of, point);
    }
  }
}

/** A bound of the share of its elastic range that a section uses; beyond 1, it may slip. Of none where it lies in a slot. */
function reachAtMost(of: InelasticSpan, point: number): number {
  if (of.span.mesh.h[point >> 1] === 0) return 0;
  const section = of.sections[point >> 1];
  const twist = sectionStrain(of, point, 0);
  const up = sectionStrain(of, point, 1);
  const side = sectionStrain(of, point, 2);
  return strainAtMost(section, of.history, of.historyAt[point], twist, up, side) / elasticLimit(section.law);
}

/** Makes the state of a section its history and takes what it uses of its elastic range; largest slip of a fibre, strain. */
function lookAt(path: InelasticPath, of: InelasticSpan, point: number): number {
  const { history, historyAt } = of;
  const section = of.sections[point >> 1];
  const twist = sectionStrain(of, point, 0);
  const up = sectionStrain(of, point, 1);
  const side = sectionStrain(of, point, 2);
  // What is left of a step as the rest of it lies in a slot shows no more than whether it yields.
  const inSlot = liesInSlot(of, point);
  if (!inSlot) commit(section, history, historyAt[point], twist, up, side);
  const reach = inSlot
    ? Math.min(1, reachOfLimit(section, history, historyAt[point], twist, up, side))
    : committed.reach;
  if (reach > path.reach) {
    path.reach = reach;
    path.limit = elasticLimit(section.law);
  }
  return inSlot ? 0 : committed.flow;
}

/** What was noted as a Gauss point was drawn to a slot's edge, and that the slot has straightened it then. */
function commitStrainAtEdge(of: InelasticSpan, point: number): number {
  const { strainAtEdge, reference, twistShare, sections, history, historyAt } = of;
  const at = 3 * point;
  if (Number.isNaN(strainAtEdge[at])) return 0;
  const section = sections[point >> 1];
  commit(section, history, historyAt[point], strainAtEdge[at], strainAtEdge[at + 1], strainAtEdge[at + 2]);
  const { flow } = committed;
  strainAtEdge[at] = Number.NaN;
  const twist = -twistShare[point >> 1] * reference[at];
  commit(section, history, historyAt[point], twist, -reference[at + 1], -reference[at + 2]);
  return Math.max(flow, committed.flow);
}

function keep(path: InelasticPath): void {
  path.spans.forEach(({ span, curvature }, k) => {
    saveState(span, path.kept[k].state);
    path.kept[k].curvature.set(curvature);
    if (span.supports) path.kept[k].nodes.set(span.supports.nodes);
  });
  path.keptAmounts.set(path.controls.amounts);
  path.keptShare = path.spans[0].held.share;
}

/** To the equilibrium at which history was last committed. */
export function goBack(path: InelasticPath): void {
  path.controls.amounts.set(path.keptAmounts);
  path.spans.forEach((of, k) => {
    const { span, curvature } = of;
    // The strains' reference goes back with the curvatures.
    setInelasticControls(of, path.keptShare, path.keptAmounts);
    standAt(of, path.kept[k].nodes);
    restoreState(span, path.kept[k].state);
    curvature.set(path.kept[k].curvature);
  });
}
