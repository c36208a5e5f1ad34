/**
 * Contact of a wire with a slot that it has play in, or that it slides through while other things hold it: at the slot's two
 * edges across its height and its depth, and against turning about its own length. Contacts are stiff one-sided springs; the
 * wire's line at an edge is that of its nearest node, carried on with its tangent and curvature to second order, so that
 * wire may slide through.
 */
import type { Mat3, Vec3 } from '../../math/vector';
import type { Span } from '../span';
import { strainRates } from '../strain-rates';
import type { SupportLaw } from './supports';

/** Where a slot stands in the span's frame. */
export interface SlotPlace {
  /** Middle of the slot, mm. */
  readonly position: Vec3;
  /** Columns: along the slot (in the direction of integration), across its height, across its depth. */
  readonly axes: Mat3;
}

/** Stiffness of a contact, N/mm, and against turning, N mm: 10 N press in by 1e-5 mm, 100 N mm turn by 1e-6 rad. */
const CONTACT = 1e6;
const TURNING = 1e8;

/** mm, from which contacts take hold: at first they keep the wire in the slot's middle as a clamp does, in the end just where it touches. */
const WIDEST = 0.3;
const NARROWEST = 1e-7;
let rounding = NARROWEST;

/** From 0, the widest rounding, to 1, the narrowest. */
export function setContactHardness(degree: number): void {
  rounding = degree === 1 ? NARROWEST : WIDEST ** (1 - degree) * NARROWEST ** degree;
}

/** Counts up where the wire is put elsewhere: what presses there has to be found anew. */
let restarts = 0;

export function restartContacts(): void {
  restarts++;
}

/** What presses on either side of a gap, N (or N mm), as the latest Newton step left it. */
interface Pressing {
  readonly sides: Float64Array;
  restarts: number;
}

function notPressing(): Pressing {
  return { sides: new Float64Array(2), restarts: -1 };
}

/** What `resistBetween` found: force (or moment) back and its rate; `unsettled` where a contact is letting go as fast as it may. */
const resisted = { force: 0, stiffness: 0, unsettled: false };

/**
 * Contacts on both sides of a gap, `away` from its middle, rounded over ε: k (p + √(p² + ε²)) / 2 with p the way past a side. That is
 * never a pull, and p = f/k - μ/f with μ = k ε²/4. Newton's method takes it in that form, the force with the way (a primal-dual
 * interior point method): small forces let the wire go far, and large ones do not. Without a gap the wire is held both ways.
 */
function resistBetween(away: number, gap: number, k: number, round: number, pressing: Pressing): void {
  resisted.unsettled = false;
  if (gap === 0) {
    resisted.force = k * away;
    resisted.stiffness = k;
    return;
  }
  resisted.force = resisted.stiffness = 0;
  const product = 0.25 * k * round * round;
  for (let side = 0; side < 2; side++) {
    const p = (side === 0 ? away : -away) - gap;
    const root = Math.sqrt(p * p + round * round);
    // Far from contact the difference of two like numbers.
    const alone = p > 0 ? 0.5 * k * (p + root) : (2 * product) / (root - p);
    let force = pressing.sides[side];
    if (pressing.restarts !== restarts) force = alone;
    else {
      const expected = force + (p - (force / k - product / force)) / (1 / k + product / (force * force));
      force = Math.max(expected, alone, LET_GO * Math.min(force, LARGEST_FORCE));
      if (force - expected > UNSETTLED * force + LEAST) resisted.unsettled = true;
    }
    pressing.sides[side] = force;
    const rate = 1 / (1 / k + product / (force * force));
    resisted.force += (side === 0 ? 1 : -1) * (force + (p - (force / k - product / force)) * rate);
    resisted.stiffness += rate;
  }
  pressing.restarts = restarts;
}

/** Share of a force that a Newton step leaves of it at least, of no more than so many N or N mm. */
const LET_GO = 0.03;
const LARGEST_FORCE = 1e3;
/** What a contact may miss, as a share of its force and in N or N mm. */
const UNSETTLED = 0.2;
const LEAST = 1e-5;
/** rad that contacts against turning are rounded by per mm of the others. */
const ROUNDED_TURN = 2;

/** Numbers of a law's present place: position (3), axes row by row (9). */
const PLACE = 12;

/**
 * One edge, `along` mm from the slot's middle. `play`: how far the wire's line may leave the middle across height and depth, mm
 * (0: held both ways).
 */
export function slotEdge(
  support: number,
  placeAt: (share: number, motion: number) => SlotPlace,
  along: number,
  play: { readonly height: number; readonly depth: number },
): SupportLaw {
  const place = new Float64Array(PLACE);
  const gaps = [play.height, play.depth] as const;
  const pressing = [notPressing(), notPressing()];
  return {
    support,
    place: (share, motion) => write(placeAt(share, motion), along, place),
    hold: (span, k) => {
      lineAt(span, span.supports!.nodes[k], place);
      let changed = false;
      for (let which = 0; which < 2; which++) {
        const away = acrossLine(place, 1 + which);
        resistBetween(away, gaps[which], CONTACT, rounding, pressing[which]);
        if (resisted.unsettled) changed = true;
        press(span, k, resisted.force, resisted.stiffness);
      }
      return changed;
    },
  };
}

/**
 * The slot's middle: holds the wire lengthwise at its seat (`held`), or only from being drawn in (1 or -1: the way out along the
 * slot), or not (0), and against turning about its length by more than `twist`, rad (undefined: not at all).
 */
export function slotMiddle(
  support: number,
  placeAt: (share: number, motion: number) => SlotPlace,
  lengthwise: 'held' | 1 | -1 | 0,
  twist: number | undefined,
): SupportLaw {
  const place = new Float64Array(PLACE);
  const pressing = notPressing();
  let caught = 0;
  let dragged = 0;
  return {
    support,
    drag: (force) => {
      dragged = force;
    },
    place: (share, motion) => write(placeAt(share, motion), 0, place),
    hold: (span, k) => {
      const node = span.supports!.nodes[k];
      let changed = false;
      if (dragged !== 0) dragAlong(span, k, dragged, place);
      if (lengthwise !== 0) {
        const away = alongSlot(span, node, place);
        const side = lengthwise === 'held' ? 1 : lengthwise * away < 0 ? 1 : 0;
        if (side !== caught) changed = true;
        caught = side;
        if (side !== 0) {
          for (let c = 0; c < 3; c++) normal[c] = place[3 + 3 * c];
          for (let c = 0; c < 3; c++) contact[c] = span.position[3 * node + c];
          offset.fill(0);
          turning.fill(0);
          press(span, k, CONTACT * away, CONTACT);
        }
      }
      if (twist !== undefined) {
        const turned = turnAbout(span.rotation, 4 * node, place);
        resistBetween(turned, twist, TURNING, ROUNDED_TURN * rounding, pressing);
        if (resisted.unsettled) changed = true;
        turnBackAlong(span, k, resisted.force, resisted.stiffness);
        // The gradient turns with the wire.
        const lasting = Math.max(-LASTING, Math.min(LASTING, resisted.force));
        const { stiffness } = span.supports!;
        for (let r = 0; r < 3; r++) {
          for (let c = 0; c < 3; c++) stiffness[36 * k + 6 * r + c] += lasting * byTurn[3 * r + c];
        }
      }
      return changed;
    },
  };
}

/** A slot without length: holds the wire's direction as well, and its place across. */
export function guide(
  support: number,
  placeAt: (share: number, motion: number) => SlotPlace,
  lengthwise: 'held' | 1 | -1 | 0,
): SupportLaw {
  const edge = slotEdge(support, placeAt, 0, { height: 0, depth: 0 });
  const middle = slotMiddle(support, placeAt, lengthwise, 0);
  const place = new Float64Array(PLACE);
  return {
    support,
    drag: middle.drag,
    place: (share, motion) => {
      edge.place(share, motion);
      middle.place(share, motion);
      write(placeAt(share, motion), 0, place);
    },
    hold: (span, k) => {
      edge.hold(span, k);
      const changed = middle.hold(span, k);
      const at = 4 * span.supports!.nodes[k];
      tangentOf(span.rotation, at);
      // Tilt across: about the slot's other axis.
      for (let which = 0; which < 2; which++) {
        const across = 1 + which;
        let sine = 0;
        for (let c = 0; c < 3; c++) sine += place[3 + 3 * c + across] * tangent[c];
        // Turning by θ moves the tangent by θ × t; across an axis d that is θ · (t × d).
        const d0 = place[3 + across];
        const d1 = place[6 + across];
        const d2 = place[9 + across];
        gradient[0] = tangent[1] * d2 - tangent[2] * d1;
        gradient[1] = tangent[2] * d0 - tangent[0] * d2;
        gradient[2] = tangent[0] * d1 - tangent[1] * d0;
        turnBackAlong(span, k, TURNING * sine, TURNING);
      }
      return changed;
    },
  };
}

/** A hook or eyelet. `slides`: its contact stays while the wire passes; otherwise it stays at the wire's mark. */
export function hookContact(
  support: number,
  placeAt: (share: number, motion: number) => SlotPlace,
  slides: boolean,
  tied: boolean,
): SupportLaw {
  const edge = slotEdge(support, placeAt, 0, { height: 0, depth: 0 });
  if (slides) return withDrag(edge, placeAt);
  const place = new Float64Array(PLACE);
  return {
    support,
    place: (share, motion) => write(placeAt(share, motion), 0, place),
    hold: (span, k) => {
      const node = span.supports!.nodes[k];
      offset.fill(0);
      turning.fill(0);
      for (let axis = tied ? 0 : 1; axis < 3; axis++) {
        let away = 0;
        for (let c = 0; c < 3; c++) {
          normal[c] = place[3 + 3 * c + axis];
          contact[c] = span.position[3 * node + c];
          away += normal[c] * (contact[c] - place[c]);
        }
        press(span, k, CONTACT * away, CONTACT);
      }
      return false;
    },
  };
}

function withDrag(law: SupportLaw, placeAt: (share: number, motion: number) => SlotPlace): SupportLaw {
  const place = new Float64Array(PLACE);
  let dragged = 0;
  return {
    support: law.support,
    drag: (force) => {
      dragged = force;
    },
    place: (share, motion) => {
      law.place(share, motion);
      write(placeAt(share, motion), 0, place);
    },
    hold: (span, k) => {
      if (dragged !== 0) dragAlong(span, k, dragged, place);
      return law.hold(span, k);
    },
  };
}

/** A constant force -`force` on the wire along the slot. */
function dragAlong(span: Span, k: number, force: number, place: Float64Array): void {
  const { nodes, wrench } = span.supports!;
  const at = 3 * nodes[k];
  const [x, y, z] = [span.position[at], span.position[at + 1], span.position[at + 2]];
  const [fx, fy, fz] = [-force * place[3], -force * place[6], -force * place[9]];
  const w = 6 * k;
  wrench[w] += y * fz - z * fy;
  wrench[w + 1] += z * fx - x * fz;
  wrench[w + 2] += x * fy - y * fx;
  wrench[w + 3] += fx;
  wrench[w + 4] += fy;
  wrench[w + 5] += fz;
}

function write({ position, axes }: SlotPlace, along: number, into: Float64Array): void {
  for (let c = 0; c < 3; c++) {
    into[c] = position[c] + along * axes[3 * c];
    for (let d = 0; d < 3; d++) into[3 + 3 * c + d] = axes[3 * c + d];
  }
}

/** Of the contact looked at: outward normal, point, the point's way from the node, and what the normal does as the node turns. */
const normal = new Float64Array(3);
const contact = new Float64Array(3);
const offset = new Float64Array(3);
const turning = new Float64Array(6);
/** The wire's line at the plane of an edge: tangent there. */
const tangent = new Float64Array(3);
const strains = new Float64Array(6);
const gradient = new Float64Array(3);
/** The gradient's derivative by the node's turn, and what it is made of. */
const byTurn = new Float64Array(9);
const bending = new Float64Array(12);

function tangentOf(q: Float64Array, at: number): void {
  const w = q[at];
  const x = q[at + 1];
  const y = q[at + 2];
  const z = q[at + 3];
  tangent[0] = 1 - 2 * (y * y + z * z);
  tangent[1] = 2 * (x * y + w * z);
  tangent[2] = 2 * (x * z - w * y);
}

function alongSlot({ position }: Span, node: number, place: Float64Array): number {
  let away = 0;
  for (let c = 0; c < 3; c++) away += place[3 + 3 * c] * (position[3 * node + c] - place[c]);
  return away;
}

/** The wire's line through a node where it passes the plane across the slot: contact, offset and tangent there. */
function lineAt(span: Span, node: number, place: Float64Array): void {
  const { position, rotation } = span;
  tangentOf(rotation, 4 * node);
  const along = place[3] * tangent[0] + place[6] * tangent[1] + place[9] * tangent[2];
  const slid = -alongSlot(span, node, place) / along;
  strainRates(span, node, strains);
  // Elastic curvature ω × t; the wire in a slot is straight as bent.
  const bx = strains[1] * tangent[2] - strains[2] * tangent[1];
  const by = strains[2] * tangent[0] - strains[0] * tangent[2];
  const bz = strains[0] * tangent[1] - strains[1] * tangent[0];
  const half = 0.5 * slid * slid;
  offset[0] = slid * tangent[0] + half * bx;
  offset[1] = slid * tangent[1] + half * by;
  offset[2] = slid * tangent[2] + half * bz;
  tangent[0] += slid * bx;
  tangent[1] += slid * by;
  tangent[2] += slid * bz;
  for (let c = 0; c < 3; c++) contact[c] = position[3 * node + c] + offset[c];
}

/** How far the line is from the slot's middle across one of its axes; leaves the contact's normal, which is square to the wire. */
function acrossLine(place: Float64Array, axis: number): number {
  const along = place[3] * tangent[0] + place[6] * tangent[1] + place[9] * tangent[2];
  const tilt = (place[3 + axis] * tangent[0] + place[6 + axis] * tangent[1] + place[9 + axis] * tangent[2]) / along;
  let away = 0;
  for (let c = 0; c < 3; c++) {
    normal[c] = place[3 + 3 * c + axis] - tilt * place[3 + 3 * c];
    away += normal[c] * (contact[c] - place[c]);
  }
  // As the node turns by θ the normal goes by -a (θ · (t × n)) / (a · t).
  turning[0] = (tangent[1] * normal[2] - tangent[2] * normal[1]) / along;
  turning[1] = (tangent[2] * normal[0] - tangent[0] * normal[2]) / along;
  turning[2] = (tangent[0] * normal[1] - tangent[1] * normal[0]) / along;
  for (let c = 0; c < 3; c++) turning[3 + c] = place[3 + 3 * c];
  return away;
}

/** Adds the contact's force -`force` along its normal, with its stiffness, to support k. */
function press(span: Span, k: number, force: number, stiff: number): void {
  if (stiff === 0) return;
  const { wrench, stiffness } = span.supports!;
  const [nx, ny, nz] = [normal[0], normal[1], normal[2]];
  const [x, y, z] = [contact[0], contact[1], contact[2]];
  // Force and moment about the span's start, per N.
  rows[3] = nx;
  rows[4] = ny;
  rows[5] = nz;
  rows[0] = y * nz - z * ny;
  rows[1] = z * nx - x * nz;
  rows[2] = x * ny - y * nx;
  // Distance by the node's movement.
  byNode[0] = offset[1] * nz - offset[2] * ny;
  byNode[1] = offset[2] * nx - offset[0] * nz;
  byNode[2] = offset[0] * ny - offset[1] * nx;
  byNode[3] = nx;
  byNode[4] = ny;
  byNode[5] = nz;
  // What a force presses while the wire is still far from where it belongs says nothing of where it will press.
  const lasting = Math.max(-LASTING, Math.min(LASTING, force));
  slidden[3] = turning[3];
  slidden[4] = turning[4];
  slidden[5] = turning[5];
  slidden[0] = y * slidden[5] - z * slidden[4];
  slidden[1] = z * slidden[3] - x * slidden[5];
  slidden[2] = x * slidden[4] - y * slidden[3];
  for (let r = 0; r < 6; r++) {
    wrench[6 * k + r] -= force * rows[r];
    for (let c = 0; c < 6; c++) stiffness[36 * k + 6 * r + c] += stiff * rows[r] * byNode[c];
    for (let c = 0; c < 3; c++) stiffness[36 * k + 6 * r + c] -= lasting * slidden[r] * turning[c];
  }
  // The contact moves with the node, along the wire as far as keeps it in its plane, and its force with it.
  const along = turning[3] * tangent[0] + turning[4] * tangent[1] + turning[5] * tangent[2];
  for (let c = 0; c < 6; c++) {
    const d = c % 3;
    moved[0] = c < 3 ? (d === 1 ? offset[2] : d === 2 ? -offset[1] : 0) : d === 0 ? 1 : 0;
    moved[1] = c < 3 ? (d === 2 ? offset[0] : d === 0 ? -offset[2] : 0) : d === 1 ? 1 : 0;
    moved[2] = c < 3 ? (d === 0 ? offset[1] : d === 1 ? -offset[0] : 0) : d === 2 ? 1 : 0;
    if (along !== 0) {
      const back = (turning[3] * moved[0] + turning[4] * moved[1] + turning[5] * moved[2]) / along;
      for (let r = 0; r < 3; r++) moved[r] -= back * tangent[r];
    }
    stiffness[36 * k + c] -= lasting * (ny * moved[2] - nz * moved[1]);
    stiffness[36 * k + 6 + c] -= lasting * (nz * moved[0] - nx * moved[2]);
    stiffness[36 * k + 12 + c] -= lasting * (nx * moved[1] - ny * moved[0]);
  }
}

const moved = new Float64Array(3);

/** N and N mm, beyond what a wire presses with. */
const LASTING = 50;

const rows = new Float64Array(6);
const byNode = new Float64Array(6);
const slidden = new Float64Array(6);

/** Turn of the node's section about the slot's length against the slot, rad; leaves its gradient. */
function turnAbout(q: Float64Array, at: number, place: Float64Array): number {
  const w = q[at];
  const x = q[at + 1];
  const y = q[at + 2];
  const z = q[at + 3];
  // The section's up axis.
  const ux = 2 * (x * y - w * z);
  const uy = 1 - 2 * (x * x + z * z);
  const uz = 2 * (y * z + w * x);
  const [hx, hy, hz] = [place[4], place[7], place[10]];
  const [dx, dy, dz] = [place[5], place[8], place[11]];
  const cosine = ux * hx + uy * hy + uz * hz;
  const sine = ux * dx + uy * dy + uz * dz;
  const size = cosine * cosine + sine * sine;
  // δ(up · d) = θ · (up × d).
  gradient[0] = (cosine * (uy * dz - uz * dy) - sine * (uy * hz - uz * hy)) / size;
  gradient[1] = (cosine * (uz * dx - ux * dz) - sine * (uz * hx - ux * hz)) / size;
  gradient[2] = (cosine * (ux * dy - uy * dx) - sine * (ux * hy - uy * hx)) / size;
  // With N the gradient times size, gs = up × d and gc = up × h: δN = gs gcᵀ - gc gsᵀ + up (c d - s h)ᵀ, δ size = 2 c gc + 2 s gs.
  const gs0 = uy * dz - uz * dy;
  const gs1 = uz * dx - ux * dz;
  const gs2 = ux * dy - uy * dx;
  const gc0 = uy * hz - uz * hy;
  const gc1 = uz * hx - ux * hz;
  const gc2 = ux * hy - uy * hx;
  bending[0] = gs0;
  bending[1] = gs1;
  bending[2] = gs2;
  bending[3] = gc0;
  bending[4] = gc1;
  bending[5] = gc2;
  bending[6] = ux;
  bending[7] = uy;
  bending[8] = uz;
  bending[9] = cosine * dx - sine * hx;
  bending[10] = cosine * dy - sine * hy;
  bending[11] = cosine * dz - sine * hz;
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) {
      const turned = bending[r] * bending[3 + c] - bending[3 + r] * bending[c] + bending[6 + r] * bending[9 + c];
      const grown = 2 * (cosine * bending[3 + c] + sine * bending[c]);
      byTurn[3 * r + c] = (turned - gradient[r] * grown) / size;
    }
  }
  return Math.atan2(sine, cosine);
}

/** Adds the moment -`moment` along the gradient of the turn it answers. */
function turnBackAlong(span: Span, k: number, moment: number, stiff: number): void {
  const { wrench, stiffness } = span.supports!;
  for (let r = 0; r < 3; r++) {
    wrench[6 * k + r] -= moment * gradient[r];
    for (let c = 0; c < 3; c++) stiffness[36 * k + 6 * r + c] += stiff * gradient[r] * gradient[c];
  }
}
