/**
 * The way out where Newton's method finds no way on: the wire is let go in a viscous surrounding, which becomes ever
 * thinner, until it has come to rest. An implicit gradient flow of its energy; it ends in a stable equilibrium and
 * passes folds of the equilibrium path, at ten to a hundred times the cost.
 */

import { rotationFactor } from './defect';
import type { HeldSpan } from './held-span';
import { setControls } from './held-span';
import { newtonStep, spanLength, step, turnNode } from './newton';
import { createSpan, type Span } from './span';
import { isStable } from './stability';
import type { SupportLaw, Supports } from './supports/supports';
import { createControls, type WireControls } from './wire-controls';

/**
 * Brings the spans to rest at controls some way ahead of the present ones, from the state they are in. `controlsAt`
 * gives the way for 0 to 1. Iterations taken, 0 where it fails (the state is then of no use).
 */
export function bringToRest(
  spans: readonly HeldSpan[],
  controls: WireControls,
  controlsAt: (part: number) => Controls,
): number {
  let iterations = 0;
  for (const held of spans) {
    const taken = restOne(held, controls, controlsAt);
    if (taken === 0) return 0;
    iterations += taken;
  }
  return iterations;
}

export interface Controls {
  readonly share: number;
  readonly motion: number;
}

/** Viscosity while the ends are carried along, at which the wire counts as let go, and that is of no use any more. */
const CARRYING = 10;
const THIN = 1e-4;
const THICKEST = 1e9;
const MOST_ITERATIONS = 3000;
/** Of a wire in contact, whose steps cost more and which has other ways out. */
const MOST_IN_CONTACT = 300;
const SETTLED = 1e-3;
const NO_CONTROLS = createControls([]);

function restOne(held: HeldSpan, controls: WireControls, controlsAt: (part: number) => Controls): number {
  const viscous = immerse(held);
  const { span } = viscous;
  // The span's own supports are among those of the surroundings.
  const also = held.laws.map((law) => ({
    law,
    at: span.supports!.nodes.indexOf(held.span.supports!.nodes[law.support]),
  }));
  const kept = { rotation: span.rotation.slice(), position: span.position.slice(), u: span.u.slice() };
  let iterations = 0;
  const attempt = (viscosity: number): number => {
    const taken = settle(viscous, also, viscosity, kept.rotation, kept.position);
    iterations += Math.abs(taken);
    for (const key of ['rotation', 'position', 'u'] as const) {
      if (taken > 0) kept[key].set(span[key]);
      else span[key].set(kept[key]);
    }
    return taken;
  };
  // A wire about to snap moves faster than a thin surrounding lets Newton follow: it is thickened until it can.
  let carried = 0;
  let carry = 0.25;
  let viscosity = CARRYING;
  while (carried < 1 || viscosity > THIN) {
    const part = Math.min(1, carried + carry);
    const { share, motion } = controlsAt(part);
    controls.amounts[0] = motion;
    setControls(held, share, controls.amounts);
    const taken = attempt(viscosity);
    if (taken < 0) {
      viscosity *= 4;
      carry /= 2;
    } else {
      carried = part;
      if (taken <= 4) {
        carry *= 1.5;
        viscosity = Math.max(viscosity / 2, carried < 1 ? CARRYING : 0);
      }
    }
    if (viscosity > THICKEST || iterations > (held.laws.length > 0 ? MOST_IN_CONTACT : MOST_ITERATIONS)) return 0;
  }
  for (let i = 0; i < span.mesh.steps; i++) {
    for (let k = 0; k < 6; k++) held.span.u[held.span.segment[i] + k] = kept.u[span.segment[i] + k];
  }
  held.span.rotation.set(kept.rotation);
  held.span.position.set(kept.position);
  if (held.span.planar) held.span.planar = flatten(held.span);
  return iterations;
}

/** The held span once more, in space, with a support at every node and its state taken over, nudged. */
function immerse(held: HeldSpan): HeldSpan {
  const { span } = held;
  const nodes: number[] = [];
  for (let i = 1; i < span.mesh.steps; i++) {
    if (span.mesh.h[i - 1] > 0 || span.supports?.nodes.includes(i)) nodes.push(i);
  }
  const supports: Supports = {
    nodes,
    stiffness: new Float64Array(36 * nodes.length),
    wrench: new Float64Array(6 * nodes.length),
  };
  const copy = {
    ...createSpan(span.mesh, span.compliance, false, supports, span.loose !== undefined),
    compliances: span.compliances,
  };
  copy.rotation.set(span.rotation);
  copy.position.set(span.position);
  for (let i = 0; i < span.mesh.steps; i++) {
    for (let k = 0; k < 6; k++) copy.u[copy.segment[i] + k] = span.u[span.segment[i] + k];
  }
  for (const node of nodes) {
    // Without it, a wire in a state that it could leave either way would stay there.
    const along = (Math.PI * node) / span.mesh.steps;
    const angle = NUDGE * (Math.sin(along) + 0.5 * Math.sin(2 * along));
    turnNode(copy.rotation, 4 * node, angle, angle, angle, 3 * angle * angle);
  }
  return { ...held, span: copy, drives: [], laws: [] };
}

/** rad */
const NUDGE = 1e-4;

/** Puts a span that has come to rest within the nudge of its plane back into it; false where it has left it. */
function flatten({ u, rotation, position }: Span): boolean {
  for (let at = 0; at < rotation.length; at += 4) {
    if (Math.abs(rotation[at + 1]) + Math.abs(rotation[at + 2]) > 10 * NUDGE) return false;
  }
  for (let at = 0; at < rotation.length; at += 4) rotation[at + 1] = rotation[at + 2] = 0;
  for (let at = 2; at < position.length; at += 3) position[at] = 0;
  u[0] = u[1] = u[5] = 0;
  return true;
}

/**
 * Newton at one viscosity: iterations, negative where they do not converge, or where the surroundings are too thin to
 * keep the wire from running away from the state (implicit steps would then run back to it).
 */
function settle(
  held: HeldSpan,
  also: readonly { readonly law: SupportLaw; readonly at: number }[],
  viscosity: number,
  rotation: Float64Array,
  position: Float64Array,
): number {
  const alone = [held];
  for (let k = 1; k <= 10; k++) {
    drag(held.span, viscosity, rotation, position);
    for (const { law, at } of also) law.hold(held.span, at);
    newtonStep(alone, NO_CONTROLS, false);
    if (!step.ok || step.rotation > 2 || step.displacement > 1e2) return -k;
    if (step.rotation < SETTLED && step.displacement < 10 * SETTLED && step.defectRotation < 0.1) {
      return isStable(held) ? k : -k;
    }
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
