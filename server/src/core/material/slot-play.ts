/** Clearance between a wire and a slot with parallel walls: how far the wire can turn before it touches. Angles in rad. */
import type { Attachment, Section } from '../design';
import { sectionProperties } from './section';

export interface SlotPlay {
  /** One-sided; 'free' where the wire turns without touching. */
  readonly thirdOrder: number | 'free';
  /** Absent for a slot without length. */
  readonly secondOrder: number | undefined;
}

/** What an attachment's slot leaves to the wire; undefined without a slot, or where the wire does not go in. */
export function slotPlay({ slot, length }: Attachment, section: Section): SlotPlay | undefined {
  const thirdOrder = slot && thirdOrderPlay(section, slot.height);
  if (slot === undefined || thirdOrder === undefined) return undefined;
  const { height } = sectionProperties(section);
  return { thirdOrder, secondOrder: length > 0 ? secondOrderClearance(height, slot.height, length) : undefined };
}

/**
 * Third-order play, one-sided: from the wire lying centred to its contact with both walls, turning about itself. From
 * (h - 2r) cos g + (w - 2r) sin g + 2r = H (handbook 2.3, which says how published figures read it). 'free' where
 * the wire turns without ever touching; undefined where it does not go in.
 */
export function thirdOrderPlay(section: Section, slotHeight: number): number | 'free' | undefined {
  if (section.kind === 'round') return section.diameter > slotHeight + FIT ? undefined : 'free';
  const { height, width, cornerRadius: r } = section;
  if (height > slotHeight + FIT) return undefined;
  const a = height - 2 * r;
  const b = width - 2 * r;
  const reach = Math.hypot(a, b);
  if (slotHeight - 2 * r > reach) return 'free';
  return Math.max(0, Math.atan2(b, a) - Math.acos(Math.min(1, (slotHeight - 2 * r) / reach)));
}

/**
 * Second-order clearance: the tip at which a wire of the given height touches both ends of a slot of `length`, from
 * height / cos t + length tan t = H (the exact form of Kusy and Whitley's critical contact angle, handbook 2.4).
 * Undefined where the wire does not go in.
 */
export function secondOrderClearance(wireHeight: number, slotHeight: number, length: number): number | undefined {
  if (wireHeight > slotHeight + FIT) return undefined;
  // slotHeight cos t - length sin t = wireHeight
  const reach = Math.hypot(slotHeight, length);
  return Math.max(0, Math.acos(Math.min(1, wireHeight / reach)) - Math.atan2(length, slotHeight));
}

/** mm; sizes that differ by less are the same nominal size. */
const FIT = 1e-9;
