/** A held span's place in the wire, and how it stands in the outer frame. */
import type { ApplianceDesign, Attachment, Pose } from '../design';
import { slide, turnRound } from '../geometry/pose';
import { rotationMatrix, rotationVector } from '../math/rotation';
import { addScaled, apply, dot, multiply, scale, subtract, transpose, type Vec3 } from '../math/vector';
import type { HeldSpan } from './held-span';
import { halfLength, type SupportPlace } from './stretches';
import type { SupportLaw } from './supports/supports';
import type { WireControls } from './wire-controls';

/** A held span and its place in the wire. */
export interface PlacedSpan {
  readonly held: HeldSpan;
  /** Attachments that hold its start and end, in the direction of integration; undefined where nothing does. */
  readonly start: number | undefined;
  readonly end: number | undefined;
  /** Integrated against the wire's own direction. */
  readonly reversed: boolean;
  /** Stations of its start and end without the motion, mm. */
  readonly from: number;
  readonly to: number;
  /** What supports it on the way, one per support of the span. */
  readonly supports: readonly SupportPlace[];
  /** The laws of those, for a wire of these spans, among which loads look for their other ends, and controls. */
  readonly lawsAmong: (spans: readonly PlacedSpan[], controls: WireControls) => readonly SupportLaw[];
  /** Frame of a span whose start nothing holds: where the nominal wire has it. */
  readonly looseFrame: Pose | undefined;
}

/** Where an attachment stands: moved by the motion, where it is the one that moves. */
export function seatAt(design: ApplianceDesign, index: number, motion: number): Pose {
  const { seatedWire } = design.attachments[index];
  const activation = design.activation?.motion;
  if (activation?.kind !== 'move' || activation.attachment !== index) return seatedWire;
  return { position: addScaled(seatedWire.position, activation.direction, motion), axes: seatedWire.axes };
}

/** Pose of the span's frame in the outer frame. */
export function spanFrame(design: ApplianceDesign, span: PlacedSpan, motion: number): Pose {
  if (span.start === undefined) return span.looseFrame!;
  return edgePose(design.attachments[span.start], seatAt(design, span.start, motion), span.reversed, 'start');
}

/** The wire's pose at a slot's edge, in the direction of integration. */
export function edgePose(attachment: Attachment, seat: Pose, reversed: boolean, which: 'start' | 'end'): Pose {
  const facing = reversed ? turnRound(seat) : seat;
  return slide(facing, which === 'start' ? halfLength(attachment) : -halfLength(attachment));
}

/**
 * The way from a nominal pose (share 0) to a pose of its own (share 1), in the span's frame. Along the line from the
 * span's start it goes with the square of the share: so a wire bent sideways draws its end in by itself.
 */
export function posePath(ideal: Pose, target: Pose): (share: number) => Pose {
  const turn = rotationVector(multiply(target.axes, transpose(ideal.axes)));
  const way = subtract(target.position, ideal.position);
  const chord = ideal.position;
  const along = scale(chord, dot(way, chord) / Math.max(dot(chord, chord), Number.MIN_VALUE));
  const across = subtract(way, along);
  return (share) => {
    if (share === 1) return target;
    return {
      position: addScaled(addScaled(ideal.position, across, share), along, share * share),
      axes: multiply(rotationMatrix(scale(turn, share)), ideal.axes),
    };
  };
}

/** A vector of the span's frame in the outer frame. */
export function outward(frame: Pose, v: Vec3): Vec3 {
  return apply(frame.axes, v);
}
