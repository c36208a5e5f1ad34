/**
 * The way out where Newton's method finds no way on: the wire is let go in a viscous surrounding, which becomes ever
 * thinner, until it has come to rest. An implicit gradient flow of its energy; it ends in a stable equilibrium and
 * passes folds of the equilibrium path, at ten to a hundred times the cost.
 */

import { rotationFactor } from './defect';
import type { HeldSpan } from './held-span';
import { setControls } from './held-span';
import { newtonStep, spanLength, step } from './newton';
import { createSpan, type Span } from './span';
import type { Supports } from './supports';

/**
 * Brings the spans to rest at the controls given, from the state they are in; iterations taken, 0 where it fails
 * (the state is then of no use).
 */
export function bringToRest(spans: readonly HeldSpan[], share: number, motion: number): number {
  let iterations = 0;
  for (const held of spans) {
    setControls(held, share, motion);
    const taken = restOne(held);
    if (taken === 0) return 0;
    iterations += taken;
  }
  return iterations;
}

const THICK = 100;
const THIN = 1e-4;
const MOST_ITERATIONS = 3000;
const SETTLED = 1e-3;

function restOne(held: HeldSpan): number {
  const viscous = immerse(held);
  const { span } = viscous;
  let rotation = span.rotation.slice();
  let position = span.position.slice();
  let u = span.u.slice();
  let viscosity = THICK;
  let iterations = 0;
  while (viscosity > THIN) {
    const taken = settle(viscous, viscosity, rotation, position);
    iterations += Math.abs(taken);
    if (taken > 0) {
      if (taken <= 4) viscosity /= 2;
      rotation = span.rotation.slice();
      position = span.position.slice();
      u = span.u.slice();
    } else {
      span.rotation.set(rotation);
      span.position.set(position);
      span.u.set(u);
      viscosity *= 4;
      if (viscosity > 1e6 * THICK) return 0;
    }
    if (iterations > MOST_ITERATIONS) return 0;
  }
  held.span.rotation.set(rotation);
  held.span.position.set(position);
  held.span.u.set(u.subarray(0, 6));
  return iterations;
}

/** The held span once more, with a support at every third node and its state taken over. */
function immerse(held: HeldSpan): HeldSpan {
  const { span } = held;
  const nodes: number[] = [];
  for (let i = 3; i < span.mesh.steps - 1; i += 3) if (span.mesh.h[i - 1] > 0) nodes.push(i);
  const supports: Supports = {
    nodes,
    stiffness: new Float64Array(36 * nodes.length),
    wrench: new Float64Array(6 * nodes.length),
  };
  const copy = createSpan(span.mesh, span.compliance, span.planar, supports);
  copy.rotation.set(span.rotation);
  copy.position.set(span.position);
  for (let k = 0; k < copy.u.length; k++) copy.u[k] = span.u[k % 6];
  return { ...held, span: copy, drive: undefined };
}

/** Newton at one viscosity: iterations, negative where they do not converge. */
function settle(held: HeldSpan, viscosity: number, rotation: Float64Array, position: Float64Array): number {
  const alone = [held];
  for (let k = 1; k <= 10; k++) {
    drag(held.span, viscosity, rotation, position);
    newtonStep(alone, false);
    if (!step.ok || step.rotation > 2 || step.displacement > 1e2) return -k;
    if (step.rotation < SETTLED && step.displacement < 10 * SETTLED && step.defectRotation < 0.1) return k;
  }
  return -10;
}

/** Wrench and stiffness of the surroundings, which hold every supported node at where it was. */
function drag(span: Span, viscosity: number, rotation: Float64Array, position: Float64Array): void {
  const { nodes, stiffness, wrench } = span.supports!;
  const length = spanLength(span);
  const rigidity = 2 / (span.compliance.side + span.compliance.up);
  const turning = (viscosity * rigidity) / length;
  const shifting = (viscosity * 12 * rigidity) / length ** 3;
  for (let k = 0; k < nodes.length; k++) {
    const i = nodes[k];
    turned(span.rotation, rotation, 4 * i);
    const x = span.position[3 * i];
    const y = span.position[3 * i + 1];
    const z = span.position[3 * i + 2];
    const fx = -shifting * (x - position[3 * i]);
    const fy = -shifting * (y - position[3 * i + 1]);
    const fz = -shifting * (z - position[3 * i + 2]);
    const w = 6 * k;
    wrench[w] = -turning * turn[0] + y * fz - z * fy;
    wrench[w + 1] = -turning * turn[1] + z * fx - x * fz;
    wrench[w + 2] = -turning * turn[2] + x * fy - y * fx;
    wrench[w + 3] = fx;
    wrench[w + 4] = fy;
    wrench[w + 5] = fz;
    // K: moment about the origin by rotation and by displacement (lever and force both move), force by displacement.
    const s = 36 * k;
    stiffness.fill(0, s, s + 36);
    for (let d = 0; d < 3; d++) {
      stiffness[s + 7 * d] = turning;
      stiffness[s + 21 + 7 * d] = shifting;
    }
    crossInto(stiffness, s + 3, shifting * x + fx, shifting * y + fy, shifting * z + fz);
  }
}

const turn = new Float64Array(3);

/** Rotation vector from one node's rotation to another's. */
function turned(now: Float64Array, before: Float64Array, at: number): void {
  const aw = now[at];
  const ax = now[at + 1];
  const ay = now[at + 2];
  const az = now[at + 3];
  const bw = before[at];
  const bx = before[at + 1];
  const by = before[at + 2];
  const bz = before[at + 3];
  const w = aw * bw + ax * bx + ay * by + az * bz;
  const x = -aw * bx + ax * bw - ay * bz + az * by;
  const y = -aw * by + ax * bz + ay * bw - az * bx;
  const z = -aw * bz - ax * by + ay * bx + az * bw;
  const factor = rotationFactor(w, x * x + y * y + z * z);
  turn[0] = factor * x;
  turn[1] = factor * y;
  turn[2] = factor * z;
}

/** The matrix of v × into a block with rows six apart. */
function crossInto(m: Float64Array, at: number, x: number, y: number, z: number): void {
  m[at + 1] = -z;
  m[at + 2] = y;
  m[at + 6] = z;
  m[at + 8] = -x;
  m[at + 12] = -y;
  m[at + 13] = x;
}
