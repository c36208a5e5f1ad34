/** Newton's method on the spans of a wire, with the motion given or free and the wire sliding where it may. */
import { factorise, solveFactorised } from '../math/dense';
import { balance, clearBalance, solveControls } from './control-balance';
import { drawnShift, prepareDrawing } from './drawn-wire';
import { applyPose, assembleEnd, missingRate } from './end-conditions';
import { type Drive, type HeldSpan, setControls, takeSupports } from './held-span';
import { integrate } from './integrate';
import { passBack, solveLooseEnd, sweepLoose } from './loose-span';
import { slidingForce } from './sliding-force';
import { COLUMNS, type Span } from './span';
import {
  forceAlong,
  type MovedSupports,
  restoreSupports,
  shiftSupports,
  solvedChanges,
} from './supports/moved-supports';
import { changeBehind } from './supports/supports';
import type { WireControls } from './wire-controls';

/** What the last `newtonStep` did. */
export interface NewtonStep {
  ok: boolean;
  /** Largest rotation and displacement of a node, rad and mm. */
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
 * and the force along it is to vanish. The result is in `step`; `ok` is false where a system is singular or the step is not
 * finite.
 */
export function newtonStep(spans: readonly HeldSpan[], controls: WireControls, free: boolean): void {
  step.ok = true;
  step.contactChanged = false;
  step.rotation = step.displacement = step.defectRotation = step.defectDisplacement = step.force = 0;
  step.control = step.alongMotion = step.stiffness = 0;
  const { amounts } = controls;
  const count = amounts.length;
  clearBalance(count);
  for (const held of spans) {
    if (!linearise(held)) {
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
    for (const { control, sign, rate, moved } of drives) {
      const by = sign * balance.change[control];
      if (by === 0) continue;
      if (!moved) for (let k = 0; k < 6; k++) change[k] += rate[k] * by;
      else {
        shiftSupports(held.span, moved, by);
        step.ok = sweep(held, by);
        if (!step.ok) return;
      }
    }
    if (held.span.loose) updateLoose(held);
    else updateState(held);
    if (!step.ok) return;
  }
  for (let c = 0; c < count; c++) {
    amounts[c] += balance.change[c];
    step.control = Math.max(step.control, Math.abs(balance.change[c]));
  }
  for (const held of spans) setControls(held, held.share, amounts);
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

/** Integrates a span and solves for its `change` and its drives' `rate`; false where it is singular. */
function linearise(held: HeldSpan): boolean {
  const { span, end, drives } = held;
  if (takeSupports(held)) step.contactChanged = true;
  for (const drive of drives) if (drive.moved && !tryFurther(held, drive, drive.moved)) return false;
  if (!sweep(held, 0)) return false;
  for (const { kind, rate } of drives) {
    if (kind === 'move-supports') continue;
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

/** Integrates a span and solves for its `change`, with its end `by` mm of the motion further on; false where it is singular. */
function sweep({ span, end, change }: HeldSpan, by: number): boolean {
  if (span.loose) return sweepLoose(span) && solveLooseEnd(span, change);
  integrate(span, true);
  assembleEnd(end, span, matrix, change);
  if (factorise(matrix, 6, pivots) === 0) return false;
  if (by !== 0) {
    missingRate(end, scratch);
    for (let k = 0; k < 6; k++) change[k] += by * scratch[k];
  }
  solveFactorised(matrix, 6, pivots, change);
  return true;
}

/** The force along the motion with its supports 1 mm further on. */
function tryFurther(held: HeldSpan, drive: Drive, moved: MovedSupports): boolean {
  shiftSupports(held.span, moved, 1);
  const solved = sweep(held, 1);
  if (solved) {
    solvedChanges(held, moved);
    moved.further = forceAlong(held, drive, moved.changes);
  }
  restoreSupports(held.span, moved);
  return solved;
}

/**
 * Applies the change of u, and of the controls, to every node, and adds its measures to `step`. `held.change` is that
 * at the end; towards the start it changes at every support.
 */
function updateState(held: HeldSpan): void {
  const { span, change, drives } = held;
  let [drawnAtStart, drawnAtEnd] = [0, 0];
  for (const { kind, control, sign } of drives) {
    if (kind === 'draw-start') drawnAtStart += sign * balance.change[control];
    else if (kind === 'draw-end') drawnAtEnd += sign * balance.change[control];
  }
  if (drawnAtStart !== 0) prepareDrawing(span);
  const { u, columns, mesh, segment } = span;
  largest.fill(0);
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
    if (segment[i - 1] !== force) {
      movement[0] = x;
      movement[1] = y;
      movement[2] = z;
      movement[3] = a;
      movement[4] = b;
      movement[5] = c;
      addChange(span, force, change);
      force = segment[i - 1];
      changeBehind(span, force / 6, movement, change);
    }
    moveNode(span, i, x, y, z, a, b, c);
  }
  addChange(span, force, change);
  measure(span, sizeOf(u, 0, span), sizeOf(change, 0, span));
}

/** The same for a span that its supports alone hold; `change` is the movement of its last node. */
function updateLoose({ span, change }: HeldSpan): void {
  const { u, mesh, segment } = span;
  largest.fill(0);
  let [force, changed] = [0, 0];
  moveNode(span, mesh.steps, change[0], change[1], change[2], change[3], change[4], change[5]);
  for (let i = mesh.steps - 1; i > 0; i--) {
    passBack(span, i, change, movement);
    moveNode(span, i, change[0], change[1], change[2], change[3], change[4], change[5]);
    if (segment[i] === segment[i - 1] && i > 1) continue;
    changed = Math.max(changed, sizeOf(movement, 0, span));
    addChange(span, segment[i], movement);
    force = Math.max(force, sizeOf(u, segment[i], span));
  }
  measure(span, force, changed);
}

function moveNode(
  { rotation, position, defect }: Span,
  i: number,
  x: number,
  y: number,
  z: number,
  a: number,
  b: number,
  c: number,
): void {
  const angle2 = x * x + y * y + z * z;
  largest[0] = Math.max(largest[0], angle2);
  largest[1] = Math.max(largest[1], a * a + b * b + c * c);
  turnNode(rotation, 4 * i, x, y, z, angle2);
  position[3 * i] += a;
  position[3 * i + 1] += b;
  position[3 * i + 2] += c;
  largest[2] = Math.max(largest[2], square(defect, 6 * i));
  largest[3] = Math.max(largest[3], square(defect, 6 * i + 3));
}

/** Squares of the largest rotation and displacement of a node, and of the defects. */
const largest = new Float64Array(4);

/** Moment and force on one scale, N mm: forces act with levers of about a quarter of the wire. */
function sizeOf(u: Float64Array, at: number, span: Span): number {
  return Math.sqrt(square(u, at)) + 0.25 * spanLength(span) * Math.sqrt(square(u, at + 3));
}

/** Adds a span's measures to `step`. */
function measure(span: Span, force: number, changed: number): void {
  // The floor keeps rounding from being taken for a change where the wire is unloaded: the moment that turns it by 1e-5 rad.
  const floor = 1e-5 / (span.compliance.side * spanLength(span));
  step.rotation = Math.max(step.rotation, Math.sqrt(largest[0]));
  step.displacement = Math.max(step.displacement, Math.sqrt(largest[1]));
  step.defectRotation = Math.max(step.defectRotation, Math.sqrt(largest[2]));
  step.defectDisplacement = Math.max(step.defectDisplacement, Math.sqrt(largest[3]));
  step.force = Math.max(step.force, changed / (floor + force));
  step.ok = step.ok && Number.isFinite(largest[0] + largest[1] + changed + largest[2]);
}

const movement = new Float64Array(6);

function addChange({ u }: Span, force: number, change: Float64Array): void {
  for (let k = 0; k < 6; k++) u[force + k] += change[k];
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

/** Turns a node on the left by the rotation vector (x, y, z) and renormalises it. */
export function turnNode(rotation: Float64Array, at: number, x: number, y: number, z: number, angle2: number): void {
  let cosine: number;
  let sine: number;
  if (angle2 < 0.01) {
    cosine = 1 - (angle2 / 8) * (1 - angle2 / 48);
    sine = 0.5 - (angle2 / 48) * (1 - angle2 / 80);
  } else {
    const angle = Math.sqrt(angle2);
    cosine = Math.cos(angle / 2);
    sine = Math.sin(angle / 2) / angle;
  }
  const ex = sine * x;
  const ey = sine * y;
  const ez = sine * z;
  const qw = rotation[at];
  const qx = rotation[at + 1];
  const qy = rotation[at + 2];
  const qz = rotation[at + 3];
  const w = cosine * qw - ex * qx - ey * qy - ez * qz;
  const a = cosine * qx + ex * qw + ey * qz - ez * qy;
  const b = cosine * qy - ex * qz + ey * qw + ez * qx;
  const c = cosine * qz + ex * qy - ey * qx + ez * qw;
  const size = 1 / Math.sqrt(w * w + a * a + b * b + c * c);
  rotation[at] = w * size;
  rotation[at + 1] = a * size;
  rotation[at + 2] = b * size;
  rotation[at + 3] = c * size;
}
