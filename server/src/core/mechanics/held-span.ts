/**
 * A span with its ends held, under two controls: the share of preactivation that is bent in (the attachments
 * go from the nominal seats to their own poses along with it) and the amount of the activation's motion.
 */
import type { EndCondition } from './end-conditions';
import { armLength, setArm, shapeMesh } from './mesh';
import type { Span } from './span';

/** What the activation does to this span. */
export interface Drive {
  /** The start arm or the end arm is drawn out of the span, or the end moves (EndCondition.rate). */
  readonly kind: 'draw-start' | 'draw-end' | 'move-end';
  /** Force along the motion is this direction · n, in the span's frame. */
  readonly force: Float64Array;
  /** Balance is that of a wire free to slide through the slot (sliding-force.ts), not of the force along the motion alone. */
  readonly slides: boolean;
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
