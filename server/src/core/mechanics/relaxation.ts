/**
 * The way out where Newton's method finds no way on: the wire is let go in a viscous surrounding, which becomes ever
 * thinner, until it has come to rest. An implicit gradient flow of its energy; it ends in a stable equilibrium and
 * passes folds of the equilibrium path, at ten to a hundred times the cost.
 */

import { rotationFactor } from './defect';
import type { HeldSpan } from './held-span';
import { setControls } from './held-span';
import { newtonStep, spanLength, step } from './newton';
import { createSpan, type Span, turnNode } from './span';
import { isStable } from './stability';
import { beginContacts } from './supports/interior-point';
import { createSupports, holdNode, pullAtNode, type SupportLaw } from './supports/supports';
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
const MOST_IN_CONTACT = 1000;
const EASY_IN_CONTACT = 20;
const MOST_TOUCHING = 40;
const SETTLED = 1e-3;
const NO_CONTROLS = createControls([]);

function restOne(held: HeldSpan, controls: WireControls, controlsAt: (part: number) => Controls): number {
  const surroundings: Surroundings = {
    viscosity: CARRYING,
    rotation: held.span.rotation.slice(),
    position: held.span.position.slice(),
  };
  const viscous = immerse(held, surroundings);
  const { span } = viscous;
  const own = { ...NO_CONTROLS, contacts: controls.contacts };
  let force = span.u.slice();
  let iterations = 0;
  const attempt = (): boolean => {
    const taken = settle(viscous, own);
    iterations += Math.abs(taken);
    if (taken > 0) {
      surroundings.rotation.set(span.rotation);
      surroundings.position.set(span.position);
      force = span.u.slice();
    } else {
      span.rotation.set(surroundings.rotation);
      span.position.set(surroundings.position);
      span.u.set(force);
    }
    return taken > 0;
  };
  // A wire about to snap moves faster than a thin surrounding lets Newton follow: it is thickened until it can.
  let carried = 0;
  let carry = 0.25;
  while (carried < 1 || surroundings.viscosity > THIN) {
    const part = Math.min(1, carried + carry);
    const { share, motion } = controlsAt(part);
    controls.amounts[0] = motion;
    setControls(held, share, controls.amounts);
    const before = iterations;
    if (!attempt()) {
      surroundings.viscosity *= 4;
      carry /= 2;
    } else {
      carried = part;
      if (iterations - before <= (held.laws.length > 0 ? EASY_IN_CONTACT : 4)) {
        carry *= 1.5;
        surroundings.viscosity = Math.max(surroundings.viscosity / 2, carried < 1 ? CARRYING : 0);
      }
    }
    const most = held.laws.length > 0 ? MOST_IN_CONTACT : MOST_ITERATIONS;
    if (surroundings.viscosity > THICKEST || iterations > most) return 0;
  }
  for (let i = 0; i < span.mesh.steps; i++) {
    for (let k = 0; k < 6; k++) held.span.u[held.span.segment[i] + k] = force[span.segment[i] + k];
  }
  held.span.rotation.set(span.rotation);
  held.span.position.set(span.position);
  if (held.span.planar) held.span.planar = flatten(held.span);
  return iterations;
}

/** What the wire is let come to rest in: its viscosity, and where the wire was, in the form of a span's. */
interface Surroundings {
  viscosity: number;
  readonly rotation: Float64Array;
  readonly position: Float64Array;
}

/** The held span once more, in space, with a support at every node and its state taken over, nudged. */
function immerse(held: HeldSpan, surroundings: Surroundings): HeldSpan {
  const { span } = held;
  const nodes: number[] = [];
  for (let i = 1; i < span.mesh.steps; i++) {
    if (span.mesh.h[i - 1] > 0 || span.supports?.nodes.includes(i)) nodes.push(i);
  }
  const supports = createSupports(nodes)!;
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
  const drags = nodes.map(
    (_, k): SupportLaw => ({
      support: k,
      gaps: [],
      place: () => {},
      hold: (of) => {
        drag(of, k, surroundings);
        return false;
      },
    }),
  );
  // The span's own supports are among those of the surroundings.
  const laws = held.laws.map(({ ahead: _, ...law }) => {
    const support = nodes.indexOf(span.supports!.nodes[law.support]);
    supports.slid[support] = span.supports!.slid[law.support];
    return { ...law, support };
  });
  return { ...held, span: copy, drives: [], laws: [...drags, ...laws] };
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
function settle(held: HeldSpan, controls: WireControls): number {
  const alone = [held];
  const touches = held.laws.length > held.span.supports!.nodes.length;
  const most = touches ? MOST_TOUCHING : 10;
  beginContacts(controls.contacts);
  for (let k = 1; k <= most; k++) {
    newtonStep(alone, controls, false, false);
    if (!step.ok || step.share * step.rotation > 2 || step.displacement > 1e2) return -k;
    if (
      step.rotation < SETTLED &&
      step.displacement < 10 * SETTLED &&
      step.defectRotation < 0.1 &&
      !step.contactChanged
    ) {
      return isStable(held) ? k : -k;
    }
  }
  return -most;
}

/** Adds wrench and stiffness of the surroundings, which hold every supported node at where it was. */
function drag(span: Span, k: number, { viscosity, rotation, position }: Surroundings): void {
  const { nodes } = span.supports!;
  const length = spanLength(span);
  const rigidity = 2 / (span.compliance.side + span.compliance.up);
  const turning = (viscosity * rigidity) / length;
  const shifting = (viscosity * 12 * rigidity) / length ** 3;
  const i = nodes[k];
  turned(span.rotation, rotation, 4 * i);
  const fx = -shifting * (span.position[3 * i] - position[3 * i]);
  const fy = -shifting * (span.position[3 * i + 1] - position[3 * i + 1]);
  const fz = -shifting * (span.position[3 * i + 2] - position[3 * i + 2]);
  pullAtNode(span, k, fx, fy, fz);
  const { wrench, stiffness } = span.supports!;
  for (let d = 0; d < 3; d++) wrench[6 * k + d] -= turning * turn[d];
  holdNode(span, k, turning, shifting);
  // As the node moves, the force's moment about the span's start does too.
  crossInto(stiffness, 36 * k + 3, fx, fy, fz);
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

/** Adds the matrix of v × to a block with rows six apart. */
function crossInto(m: Float64Array, at: number, x: number, y: number, z: number): void {
  m[at + 1] -= z;
  m[at + 2] += y;
  m[at + 6] += z;
  m[at + 8] -= x;
  m[at + 12] -= y;
  m[at + 13] += x;
}
