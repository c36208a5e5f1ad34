/**
 * A span with its ends held, under two controls: the share of preactivation that is bent in (the attachments
 * go from the nominal seats to their own poses along with it) and the amount of the activation's motion.
 * One Newton step, with the motion given or free.
 */
import { factorise, solveFactorised } from '../math/dense';
import { applyPose, assembleEnd, type EndCondition, missingRate } from './end-conditions';
import { integrate } from './integrate';
import { armLength, setArm, shapeMesh } from './mesh';
import { COLUMNS, type Span } from './span';

/** What the activation does to this span. */
export interface Drive {
  /** The start arm or the end arm is drawn out of the span, or the end moves (EndCondition.rate). */
  readonly kind: 'draw-start' | 'draw-end' | 'move-end';
  /** Force along the motion is this direction · n, in the span's frame. */
  readonly force: Float64Array;
}

export interface HeldSpan {
  readonly span: Span;
  readonly end: EndCondition;
  readonly drive: Drive | undefined;
  /** Sets the end's target for a share of preactivation, without the motion. */
  readonly placeEnd: (share: number, end: EndCondition) => void;
  share: number;
  motion: number;
  /** Newton step at a given motion, and du per mm of the motion: 6 numbers each. */
  readonly change: Float64Array;
  readonly rate: Float64Array;
}

/** Sets both controls: intrinsic shape, arms and the end's target. */
export function setControls(held: HeldSpan, share: number, motion: number): void {
  if (share !== held.share) {
    shapeMesh(held.span.mesh, share);
    held.share = share;
    held.motion = Number.NaN;
  }
  if (motion === held.motion) return;
  held.motion = motion;
  held.placeEnd(share, held.end);
  const { mesh } = held.span;
  if (held.drive?.kind === 'draw-start') setArm(mesh, 'start', armLength(mesh, 'start') - motion);
  else if (held.drive?.kind === 'draw-end') setArm(mesh, 'end', armLength(mesh, 'end') - motion);
  else for (let k = 0; k < 3; k++) held.end.position[k] += motion * held.end.rate[k];
}

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
    changed += f[0] * change[3] + f[1] * change[4] + f[2] * change[5];
    step.stiffness += f[0] * rate[3] + f[1] * rate[4] + f[2] * rate[5];
  }
  if (balance && Math.abs(step.stiffness) > SLACK) step.motion = -(step.alongMotion + changed) / step.stiffness;
  for (const held of spans) {
    const { change, rate } = held;
    if (held.drive && step.motion !== 0) for (let k = 0; k < 6; k++) change[k] += rate[k] * step.motion;
    updateState(held.span, change);
    if (!step.ok) return;
    if (held.drive && step.motion !== 0) setControls(held, held.share, held.motion + step.motion);
  }
}

/** Below this stiffness, N/mm, a motion does not act on the wire at all. */
const SLACK = 1e-9;

const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
const endChange = new Float64Array(6);
const scratch = new Float64Array(6);

/** Integrates a span and solves for its `change` and `rate`; false where it is singular. */
function linearise(held: HeldSpan): boolean {
  integrate(held.span, true);
  assembleEnd(held.end, held.span, matrix, held.change);
  if (factorise(matrix, 6, pivots) === 0) return false;
  solveFactorised(matrix, 6, pivots, held.change);
  if (held.drive) {
    motionRightSide(held, held.rate);
    solveFactorised(matrix, 6, pivots, held.rate);
  }
  return true;
}

/**
 * Right side for du per mm of motion at given end conditions: t - X dx, with dx the end's movement at given u.
 * Drawing the start by dp leaves wire that began, at the old start, with the pose (η dp) ahead and the moment
 * r'×n dp less; brought back to the origin it moves rigidly by -η and its u turns along.
 */
function motionRightSide(held: HeldSpan, into: Float64Array): void {
  const { span, end, drive } = held;
  missingRate(end, into);
  if (!drive || drive.kind === 'move-end') return;
  const { u, mesh, columns } = span;
  const last = mesh.steps;
  const px = span.position[3 * last];
  const py = span.position[3 * last + 1];
  const pz = span.position[3 * last + 2];
  const start = drive.kind === 'draw-start';
  strainRates(span, start ? 0 : last, strain);
  const ax = strain[0];
  const ay = strain[1];
  const az = strain[2];
  const tx = strain[3];
  const ty = strain[4];
  const tz = strain[5];
  if (start) {
    endChange[0] = -ax;
    endChange[1] = -ay;
    endChange[2] = -az;
    endChange[3] = -(tx + ay * pz - az * py);
    endChange[4] = -(ty + az * px - ax * pz);
    endChange[5] = -(tz + ax * py - ay * px);
    scratch[0] = ty * u[5] - tz * u[4] + ay * u[2] - az * u[1];
    scratch[1] = tz * u[3] - tx * u[5] + az * u[0] - ax * u[2];
    scratch[2] = tx * u[4] - ty * u[3] + ax * u[1] - ay * u[0];
    scratch[3] = ay * u[5] - az * u[4];
    scratch[4] = az * u[3] - ax * u[5];
    scratch[5] = ax * u[4] - ay * u[3];
    for (let c = 0; c < 6; c++) {
      for (let k = 0; k < 6; k++) endChange[k] += columns[COLUMNS * last + 6 * c + k] * scratch[c];
    }
  } else {
    for (let k = 0; k < 6; k++) endChange[k] = -strain[k];
  }
  applyPose(end, span, endChange, 0, scratch, 0, 1);
  for (let k = 0; k < 6; k++) into[k] -= scratch[k];
}

const strain = new Float64Array(6);

/** ω (elastic part) and r' at a node, from its own pose and the moment and force there. */
export function strainRates(span: Span, node: number, into: Float64Array): void {
  const { u, rotation, position, compliance } = span;
  const w = rotation[4 * node];
  const x = rotation[4 * node + 1];
  const y = rotation[4 * node + 2];
  const z = rotation[4 * node + 3];
  const rx = position[3 * node];
  const ry = position[3 * node + 1];
  const rz = position[3 * node + 2];
  const mx = u[0] - ry * u[5] + rz * u[4];
  const my = u[1] - rz * u[3] + rx * u[5];
  const mz = u[2] - rx * u[4] + ry * u[3];
  const d1x = 1 - 2 * (y * y + z * z);
  const d1y = 2 * (x * y + w * z);
  const d1z = 2 * (x * z - w * y);
  const d3x = 2 * (x * z + w * y);
  const d3y = 2 * (y * z - w * x);
  const d3z = 1 - 2 * (x * x + y * y);
  const m1 = (compliance.twist - compliance.up) * (d1x * mx + d1y * my + d1z * mz);
  const m3 = (compliance.side - compliance.up) * (d3x * mx + d3y * my + d3z * mz);
  const g = 1 + (compliance.stretch - compliance.shear) * (d1x * u[3] + d1y * u[4] + d1z * u[5]);
  into[0] = compliance.up * mx + m1 * d1x + m3 * d3x;
  into[1] = compliance.up * my + m1 * d1y + m3 * d3y;
  into[2] = compliance.up * mz + m1 * d1z + m3 * d3z;
  into[3] = d1x * g + compliance.shear * u[3];
  into[4] = d1y * g + compliance.shear * u[4];
  into[5] = d1z * g + compliance.shear * u[5];
}

/** Applies a change of u to it and to every node, and adds its measures to `step`. */
function updateState(span: Span, change: Float64Array): void {
  const { u, rotation, position, columns, defect, mesh } = span;
  let largestRotation = 0;
  let largestDisplacement = 0;
  let defectRotation = 0;
  let defectDisplacement = 0;
  for (let i = 1; i <= mesh.steps; i++) {
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
  for (let k = 0; k < 6; k++) u[k] += change[k];
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
function turnNode(rotation: Float64Array, at: number, x: number, y: number, z: number, angle2: number): void {
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
