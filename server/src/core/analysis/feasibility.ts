/** What can be said of a design without solving it: is it held, does the wire reach, are the slots' stretches straight. */
import { type ApplianceDesign, drawnThrough, type Motion } from '../design';
import { developedLength } from '../geometry/developed-length';
import { slide } from '../geometry/pose';
import { applyTransposed, norm, subtract } from '../math/vector';
import { seatAt } from '../mechanics/placed-span';
import { clamps, halfLength, isPoint, isSupported } from '../mechanics/stretches';
import type { Failure } from './analysis';

/** More attachments than this are not taken. */
export const MOST_ATTACHMENTS = 30;

/** What stops the analysis as a whole. */
export function heldFailure(design: ApplianceDesign): Failure | undefined {
  if (!(developedLength(design.elements) > 0)) return { reason: 'no-wire' };
  const { attachments } = design;
  if (attachments.length === 0) return { reason: 'not-held', detail: 'no-attachment' };
  if (attachments.length === 1 && !isSupported(design)) return { reason: 'not-held', detail: 'one-attachment' };
  if (attachments.every(isPoint)) return { reason: 'not-held', detail: 'only-points' };
  if (attachments.length > MOST_ATTACHMENTS) return { reason: 'too-many-attachments', limit: MOST_ATTACHMENTS };
  const motion = design.activation?.motion;
  if (!isHeldLengthwise(design)) return { reason: 'not-held', detail: 'all-sliding' };
  if (motion && !isDriven(design, motion)) return { reason: 'activation-not-computed' };
  return undefined;
}

/** By one attachment, or from both sides by cinched ends. */
function isHeldLengthwise({ attachments, activation }: ApplianceDesign): boolean {
  const pulled = activation?.motion.kind === 'pull' ? activation.motion.attachment : undefined;
  const holds = attachments.some((a, k) => k === pulled || (isPoint(a) ? a.tied : a.lengthwise === 'held'));
  return holds || attachments.filter(({ lengthwise }) => lengthwise === 'cinched').length > 1;
}

/** Wire is not drawn through a point. */
function isDriven({ attachments }: ApplianceDesign, { kind, attachment }: Motion): boolean {
  return kind === 'move' || !isPoint(attachments[attachment]);
}

/** What a given amount of the motion, mm, makes impossible; `motion` in the answer is the amount at which it begins. */
export function motionFailure(design: ApplianceDesign, motion: number): Failure | undefined {
  return slotFailure(design, motion) ?? spanFailure(design, motion);
}

/** Bends or the wire's end in a slot, with the wire slid by the given amounts in its own direction (none: as drawn by the motion). */
export function slotFailure(design: ApplianceDesign, motion: number, slid?: readonly number[]): Failure | undefined {
  const total = developedLength(design.elements);
  for (const [k, attachment] of design.attachments.entries()) {
    const half = halfLength(attachment);
    const low = attachment.station - half;
    const high = attachment.station + half;
    // Wire that passes the attachment on its free span's side and comes in from the other.
    const toward = -(slid ? slid[k] : drawnThrough(design, k, motion));
    const from = low + Math.min(toward, 0);
    const to = high + Math.max(toward, 0);
    const sign = Math.sign(motion);
    if (from < -TOUCH || to > total + TOUCH) {
      const room = from < -TOUCH ? low : total - high;
      return { reason: 'wire-end', attachment: k, motion: toward === 0 ? 0 : sign * Math.max(room, 0) };
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
    if (!holdsBothEnds(design, k)) continue;
    const { span, wire } = reach(design, k, motion);
    if (wire <= TOUCH || span > wire * stretch)
      return { reason: 'span-exceeds-wire', span, wire: Math.max(wire, 0), motion };
  }
  return undefined;
}

/** Whether the wire between attachments k and k + 1 stays there, and is all there is between them. */
export function holdsBothEnds(design: ApplianceDesign, k: number): boolean {
  if (isSupported(design) && !(clamps(design, k) && clamps(design, k + 1))) return false;
  return [k, k + 1].every((side) => design.attachments[side].lengthwise === 'held');
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
  const wire = high.station - halfLength(high) - low.station - halfLength(low);
  return { span, wire: wire + drawnThrough(design, k, motion) - drawnThrough(design, k + 1, motion) };
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
