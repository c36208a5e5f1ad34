/**
 * Newton's method on the inelastic spans of a wire, with the motion given or free and the wire sliding where it may. History stays
 * as it was committed.
 *
 * Where the wire slides through a slot its balance is that of sliding-force.ts with what is stored in the edge's section as
 * elastic bending, ½ m·K⁻¹m. For wire that yields there is no stored energy that the state alone tells: bending fresh wire to
 * the moment M as it leaves the slot takes up ∫ κ dM, straightening it on its way back gives ½ K κ² (m·κ less what it
 * gives elastically). Of a perfectly plastic rectangle at twice its yield curvature the first is 6 % more than ½ M²/K, and at five
 * times 19 %; the second is more still. What bending and straightening dissipate resists sliding both ways, as friction does, and
 * like friction is left out of the equilibrium.
 */
import { factorise, solveFactorised } from '../../math/dense';
import { balance, clearBalance, solveControls } from '../control-balance';
import { applyPose, assembleEnd, missingRate } from '../end-conditions';
import { type Drive, type HeldSpan, takeSupports } from '../held-span';
import { passBack, solveLooseEnd } from '../loose-span';
import { addToBalance, LEAST_HOLDING, MOST_HOLDING, spanLength, takeStep } from '../newton';
import { COLUMNS } from '../span';
import { contact, takeContacts } from '../supports/contact-share';
import type { Contacts } from '../supports/interior-point';
import { shiftSupports, tryFurther } from '../supports/moved-supports';
import { slideNodes } from '../supports/sliding-nodes';
import { changeBehind } from '../supports/supports';
import type { WireControls } from '../wire-controls';
import { DRAWN_AT_END, DRAWN_AT_START, type InelasticSpan, setInelasticControls, WIDTH } from './inelastic-span';
import { inelasticIsStable } from './inelastic-state';
import { sweep, sweepLooseInelastic } from './sweep';

/** What the last `inelasticStep` did; sizes as in newton.ts. */
export const taken = {
  ok: false,
  /** Share of it that was taken; less than 1 where contacts allow no more, or it comes no nearer than the one before. */
  share: 1,
  halved: false,
  rotation: 0,
  displacement: 0,
  defectRotation: 0,
  force: 0,
  /** Moment by which a section missed equilibrium before the step, N mm. */
  unbalanced: 0,
  control: 0,
  stiffness: 0,
  contactChanged: false,
};

/**
 * One step of all spans; where the motion is `free` it is unknown too and the force along it is to vanish. `before`: turn of
 * the step before, rad.
 */
export function inelasticStep(
  spans: readonly InelasticSpan[],
  controls: WireControls,
  free: boolean,
  before: number,
): void {
  taken.ok = true;
  taken.contactChanged = false;
  taken.rotation = taken.displacement = taken.defectRotation = taken.force = taken.unbalanced = 0;
  taken.control = taken.stiffness = 0;
  const { amounts } = controls;
  const count = amounts.length;
  clearBalance(count);
  for (const of of spans) {
    if (!linearise(of, controls.contacts, !free)) {
      taken.ok = false;
      return;
    }
    taken.unbalanced = Math.max(taken.unbalanced, of.unbalanced);
    addToBalance(of.held, count);
  }
  taken.ok = solveControls(controls, free);
  if (!taken.ok) return;
  taken.stiffness = balance.stiffness;
  taken.contactChanged ||= balance.changed;
  let longest = 0;
  for (let c = 0; c < count; c++) longest = Math.max(longest, Math.abs(balance.change[c]));
  if (longest > LONGEST) for (let c = 0; c < count; c++) balance.change[c] *= LONGEST / longest;
  for (const of of spans) {
    if (!follow(of)) {
      taken.ok = false;
      return;
    }
    if (of.bending) moveLoose(of, of.bending);
    else move(of);
    measure(of);
  }
  if (!taken.ok) return;
  takeContacts(
    spans.map(({ held }) => held),
    controls.contacts,
    taken.rotation,
  );
  // Past yield steps may go to and fro between two states, with what is sought half way.
  taken.halved = taken.rotation > Math.max(NOTICEABLE, FALLING * before);
  const share = Math.min(taken.halved ? 0.5 : 1, contact.share);
  if (!contact.settled) taken.contactChanged = true;
  taken.share = share;
  for (const of of spans) take(of, share);
  for (let c = 0; c < count; c++) amounts[c] += share * balance.change[c];
  taken.control = Math.min(longest, LONGEST);
  for (const of of spans) {
    setInelasticControls(of, of.held.share, amounts);
    slideNodes(of.held);
  }
}

/** A step that turns the wire by more than this of the one before does not come nearer. */
const FALLING = 0.7;
/** rad */
const NOTICEABLE = 1e-6;

/** Longest step of a control, mm: a wire near its plastic moment would run away. */
const LONGEST = 2;

const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
const pose = new Float64Array(6);

/** Sweeps a span and solves for its `change` and its drives' `rate`, held in contact as in newton.ts; false where it is singular. */
function linearise(of: InelasticSpan, contacts: Contacts, resting: boolean): boolean {
  const { held, span, columns } = of;
  for (let holding = 0; ; holding = holding === 0 ? Math.max(LEAST_HOLDING, contacts.holding / 2) : 2 * holding) {
    taken.contactChanged = takeSupports(held, holding > MOST_HOLDING ? 0 : holding) || taken.contactChanged;
    if (!solveSpan(of, 0, undefined)) return false;
    if (held.laws.length === 0 || !resting || holding > MOST_HOLDING || inelasticIsStable(of)) {
      taken.contactChanged ||= holding > 0;
      if (holding > 0) contacts.holding = holding;
      break;
    }
  }
  const solve = (_: HeldSpan, by: number, drive: Drive) => solveSpan(of, by, drive);
  for (const drive of held.drives) {
    if (!drive.moved) continue;
    if (!tryFurther(held, drive, drive.moved, solve) || !solveSpan(of, 0, undefined)) return false;
  }
  const last = WIDTH * span.mesh.steps;
  for (const { kind, rate, moved } of held.drives) {
    if (moved) continue;
    if (kind === 'move-end') missingRate(held.end, rate);
    else {
      applyPose(held.end, span, columns, last + (kind === 'draw-start' ? DRAWN_AT_START : DRAWN_AT_END), pose, 0, 1);
      for (let k = 0; k < 6; k++) rate[k] = -pose[k];
    }
    solveFactorised(matrix, 6, pivots, rate);
  }
  return true;
}

/** Sweeps a span and solves for its `change`, with a drive `by` mm further on; false where it is singular. */
function solveSpan(of: InelasticSpan, by: number, drive: Drive | undefined): boolean {
  const { held, span } = of;
  const { change } = held;
  if (span.loose) return sweepLooseInelastic(of) && solveLooseEnd(span, change);
  if (!sweep(of, true)) return false;
  const draws = drive?.kind === 'draw-start';
  if (draws) takeInDrawn(of, by);
  const last = span.mesh.steps;
  // Where others look for them.
  for (const node of span.supports?.nodes ?? []) copyColumns(of, node);
  copyColumns(of, last);
  if (span.planar) {
    // Nothing turns or moves out of the plane: any answer to these three will do.
    for (const [column, row] of OUT_OF_PLANE) span.columns[COLUMNS * last + 6 * column + row] = 1;
  }
  assembleEnd(held.end, span, matrix, change);
  if (factorise(matrix, 6, pivots) === 0) return false;
  if (drive && !draws) {
    missingRate(held.end, pose);
    for (let k = 0; k < 6; k++) change[k] += by * pose[k];
  }
  solveFactorised(matrix, 6, pivots, change);
  return true;
}

/** Adds what wire drawn at the start does to what nodes and sections do by themselves. */
function takeInDrawn({ columns, curvatureColumns }: InelasticSpan, by: number): void {
  for (const all of [columns, curvatureColumns]) {
    for (let at = 0; at < all.length; at += WIDTH) {
      for (let k = 0; k < 6; k++) all[at + 36 + k] += by * all[at + DRAWN_AT_START + k];
    }
  }
}

function copyColumns({ span, columns }: InelasticSpan, node: number): void {
  for (let k = 0; k < COLUMNS; k++) span.columns[COLUMNS * node + k] = columns[WIDTH * node + k];
}

/** u's moments about the tangent and up and its force sideways, with the pose that each would change. */
const OUT_OF_PLANE = [
  [0, 0],
  [1, 1],
  [5, 5],
] as const;

/** Takes the controls' changes into the change of a span; false where it is singular. */
function follow(of: InelasticSpan): boolean {
  const { held } = of;
  const { change, drives } = held;
  drawn.fill(0);
  for (const drive of drives) {
    const { kind, control, sign, rate, moved } = drive;
    const by = sign * balance.change[control];
    if (by === 0) continue;
    if (moved) {
      shiftSupports(held.span, moved, by);
      if (!solveSpan(of, by, drive)) return false;
      continue;
    }
    for (let k = 0; k < 6; k++) change[k] += rate[k] * by;
    if (kind !== 'move-end') drawn[kind === 'draw-start' ? 0 : 1] += by;
  }
  return true;
}

/** Movement of nodes and curvatures by the change of u and of the controls; towards the start u changes at every support. */
function move(of: InelasticSpan): void {
  const { held, span, columns, curvatureColumns, curvatureChange } = of;
  const { change } = held;
  const { mesh, segment, movement } = span;
  let force = segment[mesh.steps - 1];
  for (let i = mesh.steps; i > 0; i--) {
    combine(columns, WIDTH * i, change, span.planar ? POSE_IN_PLANE : ALL, movement, 6 * i);
    if (segment[i - 1] !== force) {
      span.change.set(change, force);
      force = segment[i - 1];
      for (let k = 0; k < 6; k++) moved[k] = movement[6 * i + k];
      changeBehind(span, force / 6, moved, behind);
      for (let k = 0; k < 6; k++) change[k] += behind[k];
    }
    combine(
      curvatureColumns,
      WIDTH * (i - 1),
      change,
      span.planar ? CURVATURE_IN_PLANE : ALL,
      curvatureChange,
      6 * i - 6,
    );
  }
  span.change.set(change, force);
}

/** The same for a span that its supports alone hold; `change` is the movement of its last node. */
function moveLoose(
  { held: { change }, span, curvatureChange }: InelasticSpan,
  { byNode, byForce, own }: NonNullable<InelasticSpan['bending']>,
): void {
  const { mesh, segment, movement } = span;
  movement.set(change, 6 * mesh.steps);
  span.change.fill(0);
  curvatureChange.fill(0, 0, 6);
  for (let i = mesh.steps - 1; i > 0; i--) {
    passBack(span, i, change, behind);
    movement.set(change, 6 * i);
    for (let r = 0; r < 6; r++) {
      let sum = own[6 * i + r];
      for (let c = 0; c < 6; c++) {
        sum += byNode[36 * i + 6 * r + c] * change[c] + byForce[36 * i + 6 * r + c] * behind[c];
      }
      curvatureChange[6 * i + r] = sum;
    }
    if (segment[i] !== segment[i - 1] || i === 1) span.change.set(behind, segment[i]);
  }
}

const moved = new Float64Array(6);
const behind = new Float64Array(6);
/** Wire drawn at the start and at the end in this step, mm. */
const drawn = new Float64Array(2);
/** Rows that can be other than 0. */
const ALL = [0, 1, 2, 3, 4, 5];
const POSE_IN_PLANE = [2, 3, 4];
const CURVATURE_IN_PLANE = [2, 5];

/** Takes a share of the step at every node and section. */
function take({ span, curvature, curvatureChange }: InelasticSpan, share: number): void {
  takeStep(span, share);
  for (let k = 0; k < curvature.length; k++) curvature[k] += share * curvatureChange[k];
}

/** Adds a span's measures to `taken`. */
function measure({ span }: InelasticSpan): void {
  const { u, defect, mesh, movement, change: forceChange } = span;
  let [rotation, displacement, defectRotation] = [0, 0, 0];
  for (let at = 6; at <= 6 * mesh.steps; at += 6) {
    rotation = Math.max(rotation, square(movement, at));
    displacement = Math.max(displacement, square(movement, at + 3));
    defectRotation = Math.max(defectRotation, square(defect, at));
  }
  const lever = 0.25 * spanLength(span);
  // As in newton.ts.
  let [size, changed] = [0, 0];
  for (let at = 0; at < u.length; at += 6) {
    for (let k = 0; k < 6; k++) moved[k] = u[at + k] + forceChange[at + k];
    size = Math.max(size, Math.sqrt(square(moved, 0)) + lever * Math.sqrt(square(moved, 3)));
    changed = Math.max(changed, Math.sqrt(square(forceChange, at)) + lever * Math.sqrt(square(forceChange, at + 3)));
  }
  const floor = 1e-5 / (span.compliance.side * 4 * lever);
  taken.rotation = Math.max(taken.rotation, Math.sqrt(rotation));
  taken.displacement = Math.max(taken.displacement, Math.sqrt(displacement));
  taken.defectRotation = Math.max(taken.defectRotation, Math.sqrt(defectRotation));
  taken.force = Math.max(taken.force, changed / (floor + size));
  taken.ok = taken.ok && Number.isFinite(rotation + displacement + changed + defectRotation + size);
}

/** Seventh column, six columns times the change of u, the last two times the wire drawn. */
function combine(
  from: Float64Array,
  at: number,
  change: Float64Array,
  rows: readonly number[],
  into: Float64Array,
  to: number,
): void {
  into.fill(0, to, to + 6);
  for (let k = 0; k < rows.length; k++) {
    const r = rows[k];
    let sum =
      from[at + 36 + r] +
      from[at + r] * change[0] +
      from[at + 6 + r] * change[1] +
      from[at + 12 + r] * change[2] +
      from[at + 18 + r] * change[3] +
      from[at + 24 + r] * change[4] +
      from[at + 30 + r] * change[5];
    if (drawn[0] !== 0) sum += from[at + DRAWN_AT_START + r] * drawn[0];
    if (drawn[1] !== 0) sum += from[at + DRAWN_AT_END + r] * drawn[1];
    into[to + r] = sum;
  }
}

function square(a: Float64Array, at: number): number {
  return a[at] * a[at] + a[at + 1] * a[at + 1] + a[at + 2] * a[at + 2];
}
