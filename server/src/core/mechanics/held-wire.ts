/** The wire of a design in its attachments: which spans there are, how each is held, what the activation does to it. */
import type { ApplianceDesign, Attachment, Pose } from '../design';
import { type Centreline, poseAt } from '../geometry/centreline';
import { relativeTo, slide, turnRound } from '../geometry/pose';
import { rotationMatrix, rotationVector } from '../math/rotation';
import {
  addScaled,
  apply,
  applyTransposed,
  column,
  dot,
  type Mat3,
  multiply,
  scale,
  subtract,
  transpose,
  type Vec3,
} from '../math/vector';
import type { EndCondition } from './end-conditions';
import type { Drive, HeldSpan } from './held-span';
import { createMesh, type MeshRule, writeQuaternion } from './mesh';
import { type Piece, piecesBetween } from './pieces';
import { planarPieces, planarPose, ROUNDING } from './planar';
import { type Compliance, createSpan } from './span';

/** A held span and its place in the wire. */
export interface PlacedSpan {
  readonly held: HeldSpan;
  /** Attachments at its start and end, in the direction of integration. */
  readonly start: number;
  readonly end: number;
  /** Integrated against the wire's own direction. */
  readonly reversed: boolean;
  /** Stations of its start and end without the motion, mm. */
  readonly from: number;
  readonly to: number;
}

export function isPoint(attachment: Attachment): boolean {
  return attachment.fitting === 'hook' || attachment.fitting === 'eyelet';
}

/** Length of wire that an attachment holds straight on each side of its seat, mm. */
export function halfLength(attachment: Attachment): number {
  return isPoint(attachment) ? 0 : attachment.length / 2;
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
  return edgePose(design.attachments[span.start], seatAt(design, span.start, motion), span.reversed, 'start');
}

/** The wire's pose at a slot's edge, in the direction of integration. */
function edgePose(attachment: Attachment, seat: Pose, reversed: boolean, which: 'start' | 'end'): Pose {
  const facing = reversed ? turnRound(seat) : seat;
  return slide(facing, which === 'start' ? halfLength(attachment) : -halfLength(attachment));
}

/** Spans between consecutive attachments; the attachments must allow it (feasibility.ts). */
export function placeSpans(
  design: ApplianceDesign,
  nominal: Centreline,
  compliance: Compliance,
  rule: MeshRule,
  splits: readonly (readonly number[])[],
): readonly PlacedSpan[] {
  return design.attachments.slice(1).map((_, k) => placeSpan(design, nominal, compliance, rule, splits[k], k));
}

function placeSpan(
  design: ApplianceDesign,
  nominal: Centreline,
  compliance: Compliance,
  rule: MeshRule,
  splits: readonly number[] | undefined,
  first: number,
): PlacedSpan {
  const reversed = isPoint(design.attachments[first]);
  const start = reversed ? first + 1 : first;
  const end = reversed ? first : first + 1;
  const [low, high] = [design.attachments[first], design.attachments[first + 1]];
  const lowStation = low.station + halfLength(low);
  const highStation = high.station - halfLength(high);
  const activation = design.activation?.motion;
  const drawn = activation?.kind === 'pull' ? activation.attachment : undefined;
  const pieces = piecesBetween(design.elements, lowStation, highStation, reversed);
  const frame = edgePose(design.attachments[start], design.attachments[start].seatedWire, reversed, 'start');
  const target = relativeTo(
    frame,
    edgePose(design.attachments[end], design.attachments[end].seatedWire, reversed, 'end'),
  );
  const lowNominal = poseAt(nominal, lowStation, 'before');
  const highNominal = poseAt(nominal, highStation, 'after');
  const ideal = reversed
    ? relativeTo(turnRound(highNominal), turnRound(lowNominal))
    : relativeTo(lowNominal, highNominal);
  const slot = multiply(transpose(frame.axes), design.attachments[end].slotAxes);
  const rate = movementRate(design, start, end, frame);
  const flat = flattened(pieces, ideal, target, slot, rate);
  const way = flat ?? { pieces, ideal, target };
  const mesh = createMesh(way.pieces, rule, { start: drawn === start, end: drawn === end }, splits);
  const endCondition: EndCondition = {
    kind: isPoint(design.attachments[end]) ? 'point' : 'clamped',
    rotation: new Float64Array(4),
    position: new Float64Array(3),
    axes: Float64Array.from(transpose(slot)),
    tied: design.attachments[end].tied,
    rate: Float64Array.from(flat ? [rate[0], rate[1], 0] : rate),
  };
  const held: HeldSpan = {
    span: createSpan(mesh, compliance, flat !== undefined),
    end: endCondition,
    drive: driveOf(design, start, end, way.target, rate),
    placeEnd: endPath(way.ideal, way.target),
    share: Number.NaN,
    motion: Number.NaN,
    change: new Float64Array(6),
    rate: new Float64Array(6),
  };
  return {
    held,
    start,
    end,
    reversed,
    from: reversed ? highStation : lowStation,
    to: reversed ? lowStation : highStation,
  };
}

/** Pieces and end poses of a span that lies, and is held and moved, in its tangent-up plane. */
function flattened(
  pieces: readonly Piece[],
  ideal: Pose,
  target: Pose,
  slot: Mat3,
  rate: Vec3,
): { readonly pieces: readonly Piece[]; readonly ideal: Pose; readonly target: Pose } | undefined {
  const flatPieces = planarPieces(pieces);
  const flatIdeal = planarPose(ideal);
  const flatTarget = planarPose(target);
  // A hook whose mesial axis leaves the plane would let the wire slide out of it.
  const outward = Math.abs(slot[6]) + Math.abs(rate[2]);
  if (!flatPieces || !flatIdeal || !flatTarget || outward > ROUNDING) return undefined;
  return { pieces: flatPieces, ideal: flatIdeal, target: flatTarget };
}

/** How the span's end moves against its start per mm of the motion, in the span's frame. */
function movementRate(design: ApplianceDesign, start: number, end: number, frame: Pose): Vec3 {
  const motion = design.activation?.motion;
  if (motion?.kind !== 'move') return [0, 0, 0];
  const along = applyTransposed(frame.axes, motion.direction);
  if (motion.attachment === end) return along;
  return motion.attachment === start ? scale(along, -1) : [0, 0, 0];
}

function driveOf(design: ApplianceDesign, start: number, end: number, target: Pose, rate: Vec3): Drive | undefined {
  const motion = design.activation?.motion;
  if (!motion || (motion.attachment !== start && motion.attachment !== end)) return undefined;
  if (motion.kind === 'move') return { kind: 'move-end', force: Float64Array.from(rate), slides: false };
  const slides = design.attachments[motion.attachment].lengthwise === 'sliding';
  if (motion.attachment === start) return { kind: 'draw-start', force: Float64Array.of(1, 0, 0), slides };
  return { kind: 'draw-end', force: Float64Array.from(column(target.axes, 0)), slides };
}

/**
 * The end's way from the nominal seat (share 0) to its own pose (share 1), in the span's frame. Along the line between
 * the span's ends it goes with the square of the share: so a wire bent sideways draws its end in by itself.
 */
function endPath(ideal: Pose, target: Pose): (share: number, end: EndCondition) => void {
  const turn = rotationVector(multiply(target.axes, transpose(ideal.axes)));
  const way = subtract(target.position, ideal.position);
  const chord = ideal.position;
  const along = scale(chord, dot(way, chord) / Math.max(dot(chord, chord), Number.MIN_VALUE));
  const across = subtract(way, along);
  return (share, end) => {
    const axes: Mat3 = share === 1 ? target.axes : multiply(rotationMatrix(scale(turn, share)), ideal.axes);
    const position = addScaled(addScaled(ideal.position, across, share), along, share * share);
    writeQuaternion(end.rotation, 0, axes);
    for (let k = 0; k < 3; k++) end.position[k] = share === 1 ? target.position[k] : position[k];
  };
}

/** A vector of the span's frame in the outer frame. */
export function outward(frame: Pose, v: Vec3): Vec3 {
  return apply(frame.axes, v);
}
