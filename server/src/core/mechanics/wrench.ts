/**
 * Forces and moments of the wire on the attachments. Each end's come from that end's own section: its strains,
 * from its own pose and the moment and force there, times the stiffness.
 */
import type { ApplianceDesign, Pose } from '../design';
import { rotationMatrix } from '../math/rotation';
import { add, apply, cross, scale, subtract, type Vec3 } from '../math/vector';
import { missing } from './end-conditions';
import { integrate } from './integrate';
import { outward, type PlacedSpan, seatAt, spanFrame } from './placed-span';
import { forceAt } from './span';

export interface OuterWrench {
  /**
   * Where force and moment act: the seat. A hook that the wire slides along is pressed where the wire lies now, so
   * that it feels no moment.
   */
  readonly place: Vec3;
  readonly force: Vec3;
  readonly moment: Vec3;
}

export interface SpanReactions {
  /** On the attachments that hold or support the span. */
  readonly wrenches: readonly { readonly attachment: number; readonly wrench: OuterWrench }[];
  /** What the state leaves unbalanced along the span and at its end: N and N mm. */
  readonly residual: { readonly force: number; readonly moment: number };
}

/** In the outer frame, of the wire on the attachment. */
export function spanReactions(design: ApplianceDesign, placed: PlacedSpan, motion: number): SpanReactions {
  integrate(placed.held.span, false);
  return reactionsOnArrival(design, placed, motion);
}

/** The same from a sweep's defects as they stand. */
export function reactionsOnArrival(design: ApplianceDesign, placed: PlacedSpan, motion: number): SpanReactions {
  const { span, end } = placed.held;
  missing(end, span, gap);
  const frame = spanFrame(design, placed, motion);
  const wrenches = supportReactions(design, placed, frame, motion);
  if (placed.start !== undefined) {
    const [x, y, z, a, b, c] = span.u;
    const place = seatAt(design, placed.start, motion).position;
    const wrench = about(place, frame.position, outward(frame, [a, b, c]), outward(frame, [x, y, z]));
    wrenches.push({ attachment: placed.start, wrench });
  }
  if (placed.end !== undefined) {
    wrenches.push({ attachment: placed.end, wrench: endReaction(design, placed, placed.end, frame, motion) });
  }
  return { wrenches, residual: residualOf(placed) };
}

/** What the wire loses at a support acts on the attachment there. */
function supportReactions(
  design: ApplianceDesign,
  { held, supports }: PlacedSpan,
  frame: Pose,
  motion: number,
): { attachment: number; wrench: OuterWrench }[] {
  return supports.flatMap(({ of }, k) => {
    if (of.kind === 'load') return [];
    const [x, y, z, a, b, c] = [0, 1, 2, 3, 4, 5].map((i) => held.span.u[6 * k + 6 + i] - held.span.u[6 * k + i]);
    const place = seatAt(design, of.attachment, motion).position;
    const wrench = about(place, frame.position, outward(frame, [a, b, c]), outward(frame, [x, y, z]));
    return [{ attachment: of.attachment, wrench }];
  });
}

function endReaction(
  design: ApplianceDesign,
  placed: PlacedSpan,
  attachment: number,
  frame: Pose,
  motion: number,
): OuterWrench {
  const { span, end } = placed.held;
  const at = forceAt(span, span.mesh.steps);
  const n: Vec3 = [span.u[at + 3], span.u[at + 4], span.u[at + 5]];

  // Own section of the end: where integration arrives, not where it should.
  const last = span.mesh.steps;
  const arrival: Vec3 = [0, 1, 2].map(
    (k) => span.position[3 * last + k] + span.defect[6 * last + 3 + k],
  ) as unknown as Vec3;
  const m = subtract([span.u[at], span.u[at + 1], span.u[at + 2]], cross(arrival, n));
  // The holder's frame is turned against that section's by what is missing.
  const clamped = end.kind === 'clamped';
  const turn = rotationMatrix(
    clamped ? subtract([gap[0], gap[1], gap[2]], defectRotation(span.defect, last)) : [0, 0, 0],
  );
  const contact = add(
    frame.position,
    outward(frame, clamped ? [end.position[0], end.position[1], end.position[2]] : arrival),
  );
  return about(
    clamped ? seatAt(design, attachment, motion).position : contact,
    contact,
    scale(outward(frame, apply(turn, n)), -1),
    scale(outward(frame, apply(turn, m)), -1),
  );
}

const gap = new Float64Array(6);

function defectRotation(defect: Float64Array, node: number): Vec3 {
  return [defect[6 * node], defect[6 * node + 1], defect[6 * node + 2]];
}

/** A force at a contact and a moment as a wrench about a place. */
function about(place: Vec3, contact: Vec3, force: Vec3, moment: Vec3): OuterWrench {
  return { place, force, moment: add(moment, cross(subtract(contact, place), force)) };
}

/** Sum over all nodes of what their defects, and the end's gap, unbalance. */
function residualOf(placed: PlacedSpan): { force: number; moment: number } {
  const { span, end } = placed.held;
  const { u, defect, position, mesh } = span;
  let at = 0;
  let n = 0;
  let force = 0;
  let moment = 0;
  for (let i = 1; i <= mesh.steps; i++) {
    at = forceAt(span, i - 1);
    n = size(u[at + 3], u[at + 4], u[at + 5]);
    const turn = size(defect[6 * i], defect[6 * i + 1], defect[6 * i + 2]);
    const shift = size(defect[6 * i + 3], defect[6 * i + 4], defect[6 * i + 5]);
    const x = position[3 * i];
    const y = position[3 * i + 1];
    const z = position[3 * i + 2];
    const m = size(
      u[at] - y * u[at + 5] + z * u[at + 4],
      u[at + 1] - z * u[at + 3] + x * u[at + 5],
      u[at + 2] - x * u[at + 4] + y * u[at + 3],
    );
    force += n * turn;
    moment += m * turn + n * shift;
  }
  const gapStart = size(gap[0], gap[1], gap[2]);
  if (end.kind === 'free') return { force: force + size(gap[3], gap[4], gap[5]), moment: moment + gapStart };
  if (end.kind === 'clamped') {
    force += n * gapStart;
    moment += size(u[at], u[at + 1], u[at + 2]) * gapStart + n * size(gap[3], gap[4], gap[5]);
  } else {
    force += end.tied ? 0 : Math.abs(gap[5]);
    moment += gapStart + n * size(gap[3], gap[4], 0);
  }
  return { force, moment };
}

function size(x: number, y: number, z: number): number {
  return Math.sqrt(x * x + y * y + z * z);
}
