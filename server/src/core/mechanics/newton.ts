/** Newton's method on the spans of a wire, with the motion given or free and the wire sliding where it may. */
import { factorise, solveFactorised } from '../math/dense';
import { balance, clearBalance, solveControls } from './control-balance';
import { drawnShift, prepareDrawing } from './drawn-wire';
import { applyPose, assembleEnd, missingRate } from './end-conditions';
import { type Drive, type HeldSpan, setControls, takeSupports } from './held-span';
import { integrate } from './integrate';
import { passBack, solveLooseEnd, sweepLoose } from './loose-span';
import { slidingForce } from './sliding-force';
import { COLUMNS, type Span, turnNode } from './span';
import { isStable } from './stability';
import { contact, takeContacts } from './supports/contact-share';
import type { Contacts } from './supports/interior-point';
import { forceAlong, shiftSupports, solvedChanges, tryFurther } from './supports/moved-supports';
import { slideNodes } from './supports/sliding-nodes';
import { changeBehind } from './supports/supports';
import type { WireControls } from './wire-controls';

/** What the last `newtonStep` did. */
export interface NewtonStep {
  ok: boolean;
  /** Share of it that was taken; less than 1 where contacts allow no more. */
  share: number;
  /** Largest rotation and displacement of a node by all of it, rad and mm. */
  rotation: number;
  displacement: number;
  /** Largest defect before the step, rad and mm. */
  defectRotation: number;
  defectDisplacement: number;
  /** Change of the end forces, relative. */
  force: number;
  /** Largest change of a control, mm. */
  control: number;
  /** Force along the motion, N, before the step, and its rate per mm; 0 without an activation. */
  alongMotion: number;
  stiffness: number;
  /** A support takes hold or lets go, or a cinched end does, with this step. */
  contactChanged: boolean;
}

export const step: NewtonStep = {
  ok: false,
  share: 1,
  rotation: 0,
  displacement: 0,
  defectRotation: 0,
  defectDisplacement: 0,
  force: 0,
  control: 0,
  alongMotion: 0,
  stiffness: 0,
  contactChanged: false,
};

/**
 * One Newton step of all spans of a wire. Wire that slides finds its amount; where the motion is `free` it is unknown too
 * and the force along it is to vanish. Wire in contact that is `resting` is led to
 * stable states. The result is in `step`; `ok` is false where a system is singular or the step is not
 * finite.
 */
export function newtonStep(spans: readonly HeldSpan[], controls: WireControls, free: boolean, resting: boolean): void {
  step.ok = true;
  step.contactChanged = false;
  step.rotation = step.displacement = step.defectRotation = step.defectDisplacement = step.force = 0;
  step.control = step.alongMotion = step.stiffness = 0;
  const { amounts } = controls;
  const count = amounts.length;
  clearBalance(count);
  for (const held of spans) {
    if (!linearise(held, controls.contacts, resting)) {
      step.ok = false;
      return;
    }
    addToBalance(held, count);
  }
  step.ok = solveControls(controls, free);
  if (!step.ok) return;
  step.alongMotion = balance.forces[0];
  step.stiffness = balance.stiffness;
  step.contactChanged ||= balance.changed;
  for (const held of spans) {
    const { change, drives } = held;
    for (const drive of drives) {
      const { control, sign, rate, moved } = drive;
      const by = sign * balance.change[control];
      if (by === 0) continue;
      if (!moved) for (let k = 0; k < 6; k++) change[k] += rate[k] * by;
      else {
        shiftSupports(held.span, moved, by);
        step.ok = sweep(held, by, drive);
        if (!step.ok) return;
      }
    }
    if (held.span.loose) moveLoose(held);
    else moveHeld(held);
    measure(held);
  }
  if (!step.ok) return;
  takeContacts(spans, controls.contacts, step.rotation);
  const { share } = contact;
  if (!contact.settled) step.contactChanged = true;
  step.share = share;
  for (const held of spans) takeStep(held.span, share);
  for (let c = 0; c < count; c++) {
    amounts[c] += share * balance.change[c];
    step.control = Math.max(step.control, Math.abs(balance.change[c]));
  }
  for (const held of spans) {
    setControls(held, held.share, amounts);
    slideNodes(held);
  }
}

/** Adds what drives a span, and what it answers, to the wire's balance. */
export function addToBalance(held: HeldSpan, count: number): void {
  const { drives, change } = held;
  for (const drive of drives) {
    const { force: f, gradient, control, sign, moved } = drive;
    let force = forceAlong(held, drive);
    if (moved) {
      solvedChanges(held, moved);
      const after = forceAlong(held, drive, moved.changes);
      balance.forces[control] += sign * force;
      balance.unbalanced[control] += sign * after;
      balance.matrix[control * count + control] += moved.further - after;
      continue;
    }
    gradient.fill(0);
    if (drive.slides) force += slidingForce(held, drive, gradient);
    for (let k = 0; k < 3; k++) gradient[3 + k] += f[k];
    balance.forces[control] += sign * force;
    balance.unbalanced[control] += sign * (force + product(gradient, change));
    for (const other of drives) {
      balance.matrix[control * count + other.control] += sign * other.sign * product(gradient, other.rate);
    }
  }
}

function product(a: Float64Array, b: Float64Array): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3] + a[4] * b[4] + a[5] * b[5];
}

const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
/** Movement of a node by drawn wire. */
const shift = new Float64Array(6);
const scratch = new Float64Array(6);

/**
 * Integrates a span and solves for its `change` and its drives' `rate`; false where it is singular. Where a wire in contact is
 * not stable and is to come to rest, it is held where it is just so much that it were, to a factor of two: its steps then lead away from
 * such states, at each of them at least twice as far.
 */
function linearise(held: HeldSpan, contacts: Contacts, resting: boolean): boolean {
  const { span, end, drives, laws } = held;
  for (let holding = 0; ; holding = holding === 0 ? Math.max(LEAST_HOLDING, contacts.holding / 2) : 2 * holding) {
    step.contactChanged = takeSupports(held, holding > MOST_HOLDING ? 0 : holding) || step.contactChanged;
    if (!sweep(held, 0, undefined)) return false;
    if (laws.length === 0 || !resting || holding > MOST_HOLDING || isStable(held)) {
      step.contactChanged ||= holding > 0;
      if (holding > 0) contacts.holding = holding;
      break;
    }
  }
  for (const drive of drives) {
    if (!drive.moved) continue;
    if (!tryFurther(held, drive, drive.moved, sweep) || !sweep(held, 0, undefined)) return false;
  }
  for (const { kind, rate, moved } of drives) {
    if (moved) continue;
    if (kind === 'move-end') missingRate(end, rate);
    else {
      if (kind === 'draw-start') prepareDrawing(span);
      drawnShift(span, span.mesh.steps, kind === 'draw-start', shift);
      applyPose(end, span, shift, 0, scratch, 0, 1);
      for (let k = 0; k < 6; k++) rate[k] = -scratch[k];
    }
    solveFactorised(matrix, 6, pivots, rate);
  }
  return true;
}

/** N mm, and N/mm. */
export const LEAST_HOLDING = 1e-5;
export const MOST_HOLDING = 1e4;

/** Integrates a span and solves for its `change`, with a drive `by` mm further on; false where it is singular. */
function sweep({ span, end, change }: HeldSpan, by: number, drive: Drive | undefined): boolean {
  if (span.loose) return sweepLoose(span) && solveLooseEnd(span, change);
  const draws = drive?.kind === 'draw-start';
  integrate(span, true, draws ? by : 0);
  assembleEnd(end, span, matrix, change);
  if (factorise(matrix, 6, pivots) === 0) return false;
  if (drive && !draws) {
    missingRate(end, scratch);
    for (let k = 0; k < 6; k++) change[k] += by * scratch[k];
  }
  solveFactorised(matrix, 6, pivots, change);
  return true;
}

/**
 * Movement of every node, and the change of u, from that of u at the end (`held.change`) and of the controls; towards the start
 * u changes at every support.
 */
function moveHeld(held: HeldSpan): void {
  const { span, change, drives } = held;
  let [drawnAtStart, drawnAtEnd] = [0, 0];
  for (const { kind, control, sign, moved: inSweep } of drives) {
    if (inSweep) continue;
    if (kind === 'draw-start') drawnAtStart += sign * balance.change[control];
    else if (kind === 'draw-end') drawnAtEnd += sign * balance.change[control];
  }
  if (drawnAtStart !== 0) prepareDrawing(span);
  const { columns, mesh, segment, movement } = span;
  let force = segment[mesh.steps - 1];
  for (let i = mesh.steps; i > 0; i--) {
    const o = COLUMNS * i;
    let x = columns[o + 36];
    let y = columns[o + 37];
    let z = columns[o + 38];
    let a = columns[o + 39];
    let b = columns[o + 40];
    let c = columns[o + 41];
    for (let k = 0; k < 6; k++) {
      const factor = change[k];
      if (factor === 0) continue;
      const at = o + 6 * k;
      x += columns[at] * factor;
      y += columns[at + 1] * factor;
      z += columns[at + 2] * factor;
      a += columns[at + 3] * factor;
      b += columns[at + 4] * factor;
      c += columns[at + 5] * factor;
    }
    for (let side = 0; side < 2; side++) {
      const drawn = side === 0 ? drawnAtStart : drawnAtEnd;
      if (drawn === 0) continue;
      drawnShift(span, i, side === 0, shift);
      x += drawn * shift[0];
      y += drawn * shift[1];
      z += drawn * shift[2];
      a += drawn * shift[3];
      b += drawn * shift[4];
      c += drawn * shift[5];
    }
    const to = 6 * i;
    movement[to] = x;
    movement[to + 1] = y;
    movement[to + 2] = z;
    movement[to + 3] = a;
    movement[to + 4] = b;
    movement[to + 5] = c;
    if (segment[i - 1] !== force) {
      span.change.set(change, force);
      force = segment[i - 1];
      for (let k = 0; k < 6; k++) moved[k] = movement[to + k];
      changeBehind(span, force / 6, moved, forceChange);
      for (let k = 0; k < 6; k++) change[k] += forceChange[k];
    }
  }
  span.change.set(change, force);
}

/** The same for a span that its supports alone hold; `held.change` is the movement of its last node. */
function moveLoose({ span, change }: HeldSpan): void {
  const { mesh, segment, movement } = span;
  movement.set(change, 6 * mesh.steps);
  for (let i = mesh.steps - 1; i > 0; i--) {
    passBack(span, i, change, forceChange);
    movement.set(change, 6 * i);
    if (segment[i] === segment[i - 1] && i > 1) continue;
    span.change.set(forceChange, segment[i]);
  }
}

const moved = new Float64Array(6);
const forceChange = new Float64Array(6);

/** Takes a share of the step at every node. */
export function takeStep(span: Span, share: number): void {
  const { u, change, rotation, position, movement, mesh } = span;
  for (let k = 0; k < u.length; k++) u[k] += share * change[k];
  for (let i = 1; i <= mesh.steps; i++) {
    const at = 6 * i;
    const x = share * movement[at];
    const y = share * movement[at + 1];
    const z = share * movement[at + 2];
    turnNode(rotation, 4 * i, x, y, z, x * x + y * y + z * z);
    position[3 * i] += share * movement[at + 3];
    position[3 * i + 1] += share * movement[at + 4];
    position[3 * i + 2] += share * movement[at + 5];
  }
}

/** Adds a span's measures to `step`. */
function measure({ span }: HeldSpan): void {
  const { u, change, movement, defect, mesh } = span;
  let [rotation, displacement, turned, moved] = [0, 0, 0, 0];
  for (let at = 6; at <= 6 * mesh.steps; at += 6) {
    rotation = Math.max(rotation, square(movement, at));
    displacement = Math.max(displacement, square(movement, at + 3));
    turned = Math.max(turned, square(defect, at));
    moved = Math.max(moved, square(defect, at + 3));
  }
  const length = spanLength(span);
  let [force, changed] = [0, 0];
  for (let at = 0; at < u.length; at += 6) {
    force = Math.max(force, sizeOf(u, at, length));
    changed = Math.max(changed, sizeOf(change, at, length));
  }
  // The floor keeps rounding from being taken for a change where the wire is unloaded: the moment that turns it by 1e-5 rad.
  const floor = 1e-5 / (span.compliance.side * length);
  step.rotation = Math.max(step.rotation, Math.sqrt(rotation));
  step.displacement = Math.max(step.displacement, Math.sqrt(displacement));
  step.defectRotation = Math.max(step.defectRotation, Math.sqrt(turned));
  step.defectDisplacement = Math.max(step.defectDisplacement, Math.sqrt(moved));
  step.force = Math.max(step.force, changed / (floor + force));
  step.ok = step.ok && Number.isFinite(rotation + displacement + changed + turned);
}

/** Moment and force on one scale, N mm: forces act with levers of about a quarter of the wire. */
function sizeOf(u: Float64Array, at: number, length: number): number {
  return Math.sqrt(square(u, at)) + 0.25 * length * Math.sqrt(square(u, at + 3));
}

function square(a: Float64Array, at: number): number {
  return a[at] * a[at] + a[at + 1] * a[at + 1] + a[at + 2] * a[at + 2];
}

/** Wire in the span, mm. */
export function spanLength(span: Span): number {
  let length = 0;
  for (let i = 0; i < span.mesh.steps; i++) length += span.mesh.h[i];
  return length;
}
