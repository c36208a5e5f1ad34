/** The wire of a design in its attachments: which spans there are, how each is held, what the activation does to it. */
import { type ApplianceDesign, type Pose, pullWay } from '../design';
import { type Centreline, poseAt, SAME_STATION } from '../geometry/centreline';
import { relativeTo, turnRound } from '../geometry/pose';
import {
  applyTransposed,
  column,
  identityMatrix,
  type Mat3,
  multiply,
  scale,
  transpose,
  type Vec3,
  zeroVector,
} from '../math/vector';
import { type ComplianceKind, type WireCompliance, wireCompliance } from './compliance';
import type { EndCondition } from './end-conditions';
import type { Drive, HeldSpan } from './held-span';
import { createMesh, type Mesh, type MeshRule, writeQuaternion } from './mesh';
import { isStraight, type Piece, piecesBetween, straightPiece } from './pieces';
import { edgePose, type PlacedSpan, posePath } from './placed-span';
import { planarPieces, planarPose, ROUNDING } from './planar';
import { createSpan } from './span';
import { clamps, isPoint, type Stretch, type SupportPlace, slidesPast, stretchesOf } from './stretches';
import { type MovedSupports, movedSupports } from './supports/moved-supports';
import { type Base, type SupportedWire, supportLaw, supportShift } from './supports/support-laws';
import { createSupports } from './supports/supports';
import { createControls, type WireControls } from './wire-controls';

/** A wire's spans and the controls that they share. */
export interface HeldWire {
  readonly spans: readonly PlacedSpan[];
  readonly controls: WireControls;
}

/** The attachments must allow it (feasibility.ts). */
export function placeSpans(
  design: ApplianceDesign,
  nominal: Centreline,
  kind: ComplianceKind,
  rule: MeshRule,
  splits: readonly (readonly number[])[],
): HeldWire {
  const { section, alloy } = design;
  const controls = createControls(slidingThroughClamps(design));
  const spans: PlacedSpan[] = [];
  const wire: Wire = {
    design,
    nominal,
    compliance: wireCompliance(section, alloy, kind),
    rule,
    controls,
    spans,
  };
  for (const [k, stretch] of stretchesOf(design).entries()) spans.push(placeSpan(wire, stretch, splits[k]));
  return { spans, controls };
}

interface Wire extends SupportedWire {
  readonly compliance: WireCompliance;
  readonly rule: MeshRule;
  readonly controls: WireControls;
}

/** Clamps that the wire slides through on its own; where it is cinched behind one, out is away from the other attachments. */
function slidingThroughClamps(design: ApplianceDesign): readonly { attachment: number; oneWay: number }[] {
  const { attachments, activation } = design;
  const pulled = activation?.motion.kind === 'pull' ? activation.motion.attachment : undefined;
  return attachments.flatMap(({ lengthwise }, attachment) => {
    if (lengthwise === 'held' || attachment === pulled || !clamps(design, attachment)) return [];
    const out = attachment === 0 ? -1 : 1;
    return [{ attachment, oneWay: lengthwise === 'cinched' ? out : 0 }];
  });
}

function placeSpan(wire: Wire, stretch: Stretch, splits: readonly number[] | undefined): PlacedSpan {
  const { design, nominal, compliance, rule } = wire;
  const { attachments } = design;
  const { start, end, reversed, low, high } = stretch;
  const supports = reversed ? [...stretch.supports].reverse() : stretch.supports;
  const way = layPieces(design, stretch, supports);
  const lowNominal = poseAt(nominal, low, 'before');
  const highNominal = poseAt(nominal, high, 'after');
  const startNominal = reversed ? turnRound(highNominal) : lowNominal;
  const endNominal = reversed ? turnRound(lowNominal) : highNominal;
  const frame =
    start === undefined ? startNominal : edgePose(attachments[start], attachments[start].seatedWire, reversed, 'start');
  const ideal = relativeTo(startNominal, endNominal);
  const target =
    end === undefined
      ? ideal
      : relativeTo(frame, edgePose(attachments[end], attachments[end].seatedWire, reversed, 'end'));
  const slot = end === undefined ? identityMatrix : multiply(transpose(frame.axes), attachments[end].slotAxes);
  const rate = movementRate(design, start, end, frame);
  const flat = supports.length > 0 ? undefined : flattened(way.pieces, ideal, target, slot, rate);
  const { pieces, ideal: from, target: to } = flat ?? { pieces: way.pieces, ideal, target };
  const base = { frame, startNominal, reversed, start };
  const lawsAmong = (spans: readonly PlacedSpan[], controls: WireControls) =>
    supports.map((place, k) => supportLaw({ design, nominal, spans, controls }, place, k, base));
  const drives = drivesOf(wire, stretch, to, rate, movedOf(design, supports, base));
  const draws = (kind: Drive['kind']) => drives.some((drive) => drive.kind === kind);
  const mesh = createMesh(pieces, rule, { start: draws('draw-start'), end: draws('draw-end') }, splits);
  const supported = createSupports(way.supported.map((piece) => mesh.firstStep[piece + mesh.added]));
  if (supported) {
    for (const [k, { of }] of supports.entries()) {
      if (slidesPast(design, of)) supported.reach.set(reachOf(mesh, way.supported[k] + mesh.added, start, end), 2 * k);
    }
  }
  const endCondition: EndCondition = {
    kind: end === undefined ? 'free' : isPoint(attachments[end]) ? 'point' : 'clamped',
    rotation: new Float64Array(4),
    position: new Float64Array(3),
    axes: Float64Array.from(transpose(slot)),
    tied: end !== undefined && attachments[end].tied,
    rate: Float64Array.from(flat ? [rate[0], rate[1], 0] : rate),
  };
  const held: HeldSpan = {
    span: createSpan(mesh, compliance.straight, flat !== undefined, supported, start === undefined, compliance.ofPiece),
    end: endCondition,
    drives,
    laws: lawsAmong(wire.spans, wire.controls),
    placeEnd: endPath(from, to),
    share: Number.NaN,
    motion: Number.NaN,
    change: new Float64Array(6),
  };
  return {
    held,
    start,
    end,
    reversed,
    from: reversed ? high : low,
    to: reversed ? low : high,
    supports,
    lawsAmong,
    looseFrame: start === undefined ? frame : undefined,
  };
}

/**
 * Nodes between which the wire beside a support is straight (Supports.reach), which stands where a piece begins. Beyond the outermost
 * support of a free end no wire is followed.
 */
function reachOf(
  { pieces, firstStep }: Mesh,
  piece: number,
  start: number | undefined,
  end: number | undefined,
): readonly [number, number] {
  const [before, after] = [pieces[piece - 1], pieces[piece]];
  const node = firstStep[piece];
  const startsLoose = start === undefined && piece === 1;
  const endsFree = end === undefined && piece === pieces.length - 1;
  if (!startsLoose && !endsFree && before.stock !== after.stock) return [-1, -1];
  return [startsLoose ? node : firstStep[piece - 1], endsFree ? node : firstStep[piece + 1]];
}

/**
 * Pieces of a stretch, cut at its supports; `supported` has the piece that begins at each. A loose start and a support at a free
 * end have a piece of no length beyond them; what wire slides past has straight wire on both sides, of no length where a bend begins.
 */
function layPieces(
  design: ApplianceDesign,
  { low, high, reversed, start, end }: Stretch,
  supports: readonly SupportPlace[],
): { readonly pieces: readonly Piece[]; readonly supported: readonly number[] } {
  const { elements } = design;
  const pieces: Piece[] = start === undefined ? [straightPiece] : [];
  const supported: number[] = [];
  let at = reversed ? high : low;
  const layTo = (station: number) => {
    const [from, to] = reversed ? [station, at] : [at, station];
    if (to - from > SAME_STATION) pieces.push(...piecesBetween(elements, from, to, reversed));
    // Every support has a node of its own, none of them an end of the span.
    else if (supports.length > 0 && pieces.length > 0 && supported.at(-1) === pieces.length) pieces.push(straightPiece);
    at = station;
  };
  for (const { station } of supports) {
    layTo(station);
    if (pieces.length === 0) pieces.push(straightPiece);
    supported.push(pieces.length);
  }
  layTo(reversed ? low : high);
  if (
    pieces.length === 0 ||
    supported.at(-1) === pieces.length ||
    (end === undefined && pieces.length === supported.at(-1))
  ) {
    pieces.push(straightPiece);
  }
  for (let k = supports.length - 1; k >= 0; k--) {
    if (!slidesPast(design, supports[k].of)) continue;
    const [before, after] = [pieces[supported[k] - 1], pieces[supported[k]]];
    const added: Piece[] = [];
    if (!isStraight(before)) added.push(lineBeside(before));
    if (!isStraight(after) || after.corners.length > 0) added.push(lineBeside(after));
    pieces.splice(supported[k], 0, ...added);
    for (let j = k + 1; j < supports.length; j++) supported[j] += added.length;
    if (!isStraight(before)) supported[k]++;
  }
  return { pieces, supported };
}

/** Straight wire of no length, of what a piece is made of. */
function lineBeside({ stock }: Piece): Piece {
  return { ...straightPiece, ...(stock && { stock }) };
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
function movementRate(design: ApplianceDesign, start: number | undefined, end: number | undefined, frame: Pose): Vec3 {
  const motion = design.activation?.motion;
  if (motion?.kind !== 'move') return [0, 0, 0];
  const along = applyTransposed(frame.axes, motion.direction);
  if (motion.attachment === end) return along;
  return motion.attachment === start ? scale(along, -1) : [0, 0, 0];
}

/**
 * How the motion moves a span's supports against its frame. Its force is that of the wire on the attachment that moves: where
 * that is the span's start, what all else of the span bears.
 */
function movedOf(design: ApplianceDesign, supports: readonly SupportPlace[], base: Base): MovedSupports | undefined {
  const motion = design.activation?.motion;
  if (motion?.kind !== 'move') return undefined;
  const along = applyTransposed(base.frame.axes, motion.direction);
  const weight = ({ of }: SupportPlace): Vec3 => {
    if (motion.attachment === base.start) return scale(along, -1);
    return of.kind !== 'load' && of.attachment === motion.attachment ? along : zeroVector;
  };
  const shifts = supports.flatMap((place) => supportShift(design, place, supports, base));
  const weights = supports.flatMap(weight);
  // Undefined where neither the supports' places nor their forces have to do with the motion.
  return [...shifts, ...weights].every((part) => part === 0) ? undefined : movedSupports(shifts, weights);
}

function drivesOf(
  { design, controls }: Wire,
  { start, end, reversed, supports }: Stretch,
  target: Pose,
  rate: Vec3,
  moved: MovedSupports | undefined,
): readonly Drive[] {
  const drives: Drive[] = [];
  const none = supports.flatMap(() => zeroVector);
  const add = (kind: Drive['kind'], control: number, sign: number, force: Vec3) =>
    drives.push({
      ...(kind === 'move-supports' && { moved }),
      ...(kind === 'draw-start' && supports.length > 0 && { moved: movedSupports(none, none) }),
      kind,
      control,
      sign,
      force: Float64Array.from(force),
      slides: control > 0,
      rate: new Float64Array(6),
      gradient: new Float64Array(6),
      amount: Number.NaN,
    });
  const motion = design.activation?.motion;
  if (moved) add('move-supports', 0, 1, rate);
  else if (motion?.kind === 'move' && (motion.attachment === start || motion.attachment === end)) {
    add('move-end', 0, 1, rate);
  }
  for (const [kind, attachment, axis] of [
    ['draw-start', start, [1, 0, 0] as Vec3],
    ['draw-end', end, column(target.axes, 0)],
  ] as const) {
    if (attachment === undefined) continue;
    // Wire that goes on in its own direction leaves a stretch at its upper end.
    const out = (kind === 'draw-end') !== reversed ? 1 : -1;
    if (motion?.kind === 'pull' && motion.attachment === attachment) add(kind, 0, out * pullWay(motion), axis);
    const control = controls.attachments.indexOf(attachment);
    if (control >= 0) add(kind, control + 1, out, axis);
  }
  return drives;
}

function endPath(ideal: Pose, target: Pose): (share: number, end: EndCondition) => void {
  const way = posePath(ideal, target);
  return (share, end) => {
    const { position, axes } = way(share);
    writeQuaternion(end.rotation, 0, axes);
    for (let k = 0; k < 3; k++) end.position[k] = position[k];
  };
}
