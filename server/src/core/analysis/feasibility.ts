/** What can be said of a design without solving it: is it held, does the wire reach, are the slots' stretches straight. */
import type { ApplianceDesign } from '../design';
import { developedLength } from '../geometry/developed-length';
import { slide } from '../geometry/pose';
import { applyTransposed, norm, subtract } from '../math/vector';
import { halfLength, isPoint, seatAt } from '../mechanics/held-wire';
import type { Failure } from './analysis';

/** More attachments than this are not taken; inner ones must hold the wire as tubes and brackets do. */
export const MOST_ATTACHMENTS = 30;

/** What stops the analysis as a whole. */
export function heldFailure(design: ApplianceDesign): Failure | undefined {
  if (!(developedLength(design.elements) > 0)) return { reason: 'no-wire' };
  const { attachments } = design;
  if (attachments.length === 0) return { reason: 'not-held', detail: 'no-attachment' };
  if (attachments.length === 1) return { reason: 'not-held', detail: 'one-attachment' };
  if (attachments.every(isPoint)) return { reason: 'not-held', detail: 'only-points' };
  if (attachments.every(({ lengthwise }) => lengthwise === 'sliding'))
    return { reason: 'not-held', detail: 'all-sliding' };
  if (attachments.some(({ lengthwise }) => lengthwise === 'sliding') && !slidesAtOneEnd(design))
    return { reason: 'sliding-not-computed' };
  if (attachments.length > MOST_ATTACHMENTS) return { reason: 'too-many-attachments', limit: MOST_ATTACHMENTS };
  const motion = design.activation?.motion;
  const innerPull = motion?.kind === 'pull' && motion.attachment > 0 && motion.attachment < attachments.length - 1;
  if (innerPull || attachments.slice(1, -1).some(isPoint)) return { reason: 'too-many-attachments', limit: 2 };
  return undefined;
}

/** A wire between two attachments that slides through one of them, the only case of sliding that is computed. */
function slidesAtOneEnd({ attachments, activation }: ApplianceDesign): boolean {
  return (
    !activation &&
    attachments.length === 2 &&
    attachments.every((a) => !isPoint(a) || (a.lengthwise === 'held' && a.tied))
  );
}

/** What a given amount of the motion, mm, makes impossible; `motion` in the answer is the amount at which it begins. */
export function motionFailure(design: ApplianceDesign, motion: number): Failure | undefined {
  return slotFailure(design, motion) ?? spanFailure(design, motion);
}

/** Bends or the wire's end in a slot. */
export function slotFailure(design: ApplianceDesign, motion: number): Failure | undefined {
  const total = developedLength(design.elements);
  for (const [k, attachment] of design.attachments.entries()) {
    const half = halfLength(attachment);
    const low = attachment.station - half;
    const high = attachment.station + half;
    // Wire that passes the attachment on its free span's side and comes in from the other.
    const drawn = design.activation?.motion;
    const pulled = drawn?.kind === 'pull' && drawn.attachment === k ? motion : 0;
    const toward = k === 0 ? pulled : -pulled;
    const from = low + Math.min(toward, 0);
    const to = high + Math.max(toward, 0);
    const sign = Math.sign(motion);
    if (from < -TOUCH || to > total + TOUCH) {
      const room = from < -TOUCH ? low : total - high;
      return { reason: 'wire-end', attachment: k, motion: pulled === 0 ? 0 : sign * Math.max(room, 0) };
    }
    const bend = firstBend(design, from, to, low, high);
    if (bend) return { reason: 'bend-in-slot', attachment: k, element: bend.element, motion: sign * bend.distance };
  }
  return undefined;
}

/** A distance to be spanned that the wire does not reach. */
export function spanFailure(design: ApplianceDesign, motion: number): Failure | undefined {
  // A straight wire may stretch up to its elastic limit.
  const stretch = 1 + design.alloy.yield / design.alloy.modulus;
  for (let k = 0; k + 1 < design.attachments.length; k++) {
    const { span, wire } = reach(design, k, motion);
    if (wire <= TOUCH || span > wire * stretch)
      return { reason: 'span-exceeds-wire', span, wire: Math.max(wire, 0), motion };
  }
  return undefined;
}

/** Distance between the edges of attachments k and k + 1, and the free wire between them, mm. */
export function reach(
  design: ApplianceDesign,
  k: number,
  motion: number,
): { readonly span: number; readonly wire: number } {
  const [low, high] = [design.attachments[k], design.attachments[k + 1]];
  const from = slide(seatAt(design, k, motion), halfLength(low));
  const to = slide(seatAt(design, k + 1, motion), -halfLength(high));
  const apart = subtract(to.position, from.position);
  let span = norm(apart);
  const sliding = [low, high].find((a) => isPoint(a) && !a.tied);
  if (sliding) {
    // Free along the slot's mesial axis: only the rest of the distance has to be reached.
    const [, y, z] = applyTransposed(sliding.slotAxes, apart);
    span = Math.hypot(y, z);
  }
  const drawn = design.activation?.motion;
  const pull = drawn?.kind === 'pull' && (drawn.attachment === k || drawn.attachment === k + 1) ? motion : 0;
  return { span, wire: high.station - halfLength(high) - low.station - halfLength(low) - pull };
}

/** The bend within a stretch that is nearest to the slot (0 where it lies in it), with its distance, mm. */
function firstBend(
  design: ApplianceDesign,
  from: number,
  to: number,
  low: number,
  high: number,
): { readonly element: number; readonly distance: number } | undefined {
  let nearest: { element: number; distance: number } | undefined;
  let station = 0;
  for (const [element, { length, shape, preactivation }] of design.elements.entries()) {
    const end = station + length;
    if (end > from + TOUCH && station < to - TOUCH && norm(shape) + norm(preactivation) > 1e-12) {
      const distance = Math.max(0, station - high, low - end);
      if (!nearest || distance < nearest.distance) nearest = { element, distance };
    }
    station = end;
  }
  return nearest;
}

/** Lengths below this, mm, do not count. */
const TOUCH = 1e-6;
