/** Newton's method on the spans of a wire, with the motion given or free. */
import { factorise, solveFactorised } from '../math/dense';
import { drawnShift, prepareDrawing } from './drawn-wire';
import { applyPose, assembleEnd, missingRate } from './end-conditions';
import { type HeldSpan, setControls } from './held-span';
import { integrate } from './integrate';
import { slidingForce } from './sliding-force';
import { COLUMNS, type Span } from './span';
import { changeBehind } from './supports';

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
  /** Change of the motion, mm. */
  motion: number;
  /** Force along the motion, N, before the step, and its rate per mm; 0 without a drive. */
  alongMotion: number;
  stiffness: number;
}

export const step: NewtonStep = {
  ok: false,
  rotation: 0,
  displacement: 0,
  defectRotation: 0,
  defectDisplacement: 0,
  force: 0,
  motion: 0,
  alongMotion: 0,
  stiffness: 0,
};

/**
 * One Newton step of all spans of a wire. With `balance` the motion is unknown too and the force along it is to
 * vanish. The result is in `step`; `ok` is false where a system is singular or the step is not finite.
 */
export function newtonStep(spans: readonly HeldSpan[], balance: boolean): void {
  step.ok = true;
  step.rotation = step.displacement = step.defectRotation = step.defectDisplacement = step.force = 0;
  step.motion = step.alongMotion = step.stiffness = 0;
  let changed = 0;
  for (const held of spans) {
    if (!linearise(held)) {
      step.ok = false;
      return;
    }
    if (!held.drive) continue;
    const f = held.drive.force;
    const { u } = held.span;
    const { change, rate } = held;
    step.alongMotion += f[0] * u[3] + f[1] * u[4] + f[2] * u[5];
    if (held.drive.slides) {
      step.alongMotion += slidingForce(held, byForces);
      changed += product(byForces, change);
      step.stiffness += product(byForces, rate);
    }
    changed += f[0] * change[3] + f[1] * change[4] + f[2] * change[5];
    step.stiffness += f[0] * rate[3] + f[1] * rate[4] + f[2] * rate[5];
  }
  if (balance && Math.abs(step.stiffness) > SLACK) step.motion = -(step.alongMotion + changed) / step.stiffness;
  for (const held of spans) {
    const { change, rate } = held;
    if (held.drive && step.motion !== 0) for (let k = 0; k < 6; k++) change[k] += rate[k] * step.motion;
    updateState(held, step.motion);
    if (!step.ok) return;
    if (held.drive && step.motion !== 0) setControls(held, held.share, held.motion + step.motion);
  }
}

function product(a: Float64Array, b: Float64Array): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3] + a[4] * b[4] + a[5] * b[5];
}

/** Derivative of the sliding force by a span's u. */
const byForces = new Float64Array(6);

/** Below this stiffness, N/mm, a motion does not act on the wire at all. */
const SLACK = 1e-9;

const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
/** Movement of a node by drawn wire. */
const shift = new Float64Array(6);
const scratch = new Float64Array(6);

/** Integrates a span and solves for its `change` and `rate`; false where it is singular. */
function linearise(held: HeldSpan): boolean {
  integrate(held.span, true);
  assembleEnd(held.end, held.span, matrix, held.change);
  if (factorise(matrix, 6, pivots) === 0) return false;
  solveFactorised(matrix, 6, pivots, held.change);
  if (held.drive) {
    missingRate(held.end, held.rate);
    if (prepareDrawing(held)) {
      drawnShift(held.span, held.span.mesh.steps, shift);
      applyPose(held.end, held.span, shift, 0, scratch, 0, 1);
      for (let k = 0; k < 6; k++) held.rate[k] -= scratch[k];
    }
    solveFactorised(matrix, 6, pivots, held.rate);
  }
  return true;
}

/**
 * Applies the change of u, and of the motion, to every node, and adds its measures to `step`. `held.change` is that
 * at the end; towards the start it changes at every support.
 */
function updateState(held: HeldSpan, motion: number): void {
  const { span, change } = held;
  const drawing = motion !== 0 && prepareDrawing(held);
  const { u, rotation, position, columns, defect, mesh, segment } = span;
  let largestRotation = 0;
  let largestDisplacement = 0;
  let defectRotation = 0;
  let defectDisplacement = 0;
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
    if (drawing) {
      drawnShift(span, i, shift);
      x += motion * shift[0];
      y += motion * shift[1];
      z += motion * shift[2];
      a += motion * shift[3];
      b += motion * shift[4];
      c += motion * shift[5];
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
    const angle2 = x * x + y * y + z * z;
    largestRotation = Math.max(largestRotation, angle2);
    largestDisplacement = Math.max(largestDisplacement, a * a + b * b + c * c);
    turnNode(rotation, 4 * i, x, y, z, angle2);
    position[3 * i] += a;
    position[3 * i + 1] += b;
    position[3 * i + 2] += c;
    defectRotation = Math.max(defectRotation, square(defect, 6 * i));
    defectDisplacement = Math.max(defectDisplacement, square(defect, 6 * i + 3));
  }
  addChange(span, force, change);
  // Moments and forces on one scale: forces act with levers of about a quarter of the wire. The floor keeps rounding
  // from being taken for a change where the wire is unloaded: the moment that turns it by 1e-5 rad.
  const length = spanLength(span);
  const lever = 0.25 * length;
  const floor = 1e-5 / (span.compliance.side * length);
  const size = floor + Math.sqrt(square(u, 0)) + lever * Math.sqrt(square(u, 3));
  const changeSize = Math.sqrt(square(change, 0)) + lever * Math.sqrt(square(change, 3));
  step.rotation = Math.max(step.rotation, Math.sqrt(largestRotation));
  step.displacement = Math.max(step.displacement, Math.sqrt(largestDisplacement));
  step.defectRotation = Math.max(step.defectRotation, Math.sqrt(defectRotation));
  step.defectDisplacement = Math.max(step.defectDisplacement, Math.sqrt(defectDisplacement));
  step.force = Math.max(step.force, changeSize / size);
  step.ok = step.ok && Number.isFinite(largestRotation + largestDisplacement + changeSize + defectRotation);
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
