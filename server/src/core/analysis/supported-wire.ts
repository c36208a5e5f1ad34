/** What is read off a wire where it is supported on its way: how it stands in slots that it has play in, and what pulls on it. */
import type { ApplianceDesign, Load, LoadPlace, Pose } from '../design';
import { compose, turnRound } from '../geometry/pose';
import { quaternionMatrix, rotationVector } from '../math/rotation';
import { applyTransposed, column, dot, multiply, norm, subtract, transpose, type Vec3 } from '../math/vector';
import { outward, type PlacedSpan, seatAt, spanFrame } from '../mechanics/placed-span';
import { clamps, type SupportPlace } from '../mechanics/stretches';
import { pullOf } from '../mechanics/supports/load';
import type { LoadState, SeatedWithPlay } from './analysis';

/** Wire that has passed an attachment which only supports it, in the wire's own direction, mm; undefined where none does. */
export function seatShift(
  design: ApplianceDesign,
  spans: readonly PlacedSpan[],
  attachment: number,
  motion: number,
): number | undefined {
  const wire = supportedAt(
    design,
    spans,
    motion,
    ({ of }) => of.kind !== 'load' && of.kind !== 'edge' && of.attachment === attachment,
  );
  if (!wire) return undefined;
  const seat = seatAt(design, attachment, motion);
  return dot(column(seat.axes, 0), subtract(wire.pose.position, seat.position)) - wire.slid;
}

/** Null where the wire has no play. */
export function seatedWithPlay(
  design: ApplianceDesign,
  spans: readonly PlacedSpan[],
  attachment: number,
  motion: number,
): SeatedWithPlay | null {
  const { play, seatedWire, slotAxes } = design.attachments[attachment];
  if (!play || clamps(design, attachment)) return null;
  const middle = supportedAt(design, spans, motion, ({ of }) => of.kind === 'middle' && of.attachment === attachment);
  if (!middle) return null;
  const turn = rotationVector(multiply(middle.pose.axes, transpose(seatedWire.axes)));
  const touching = { height: 0, depth: 0, torque: false };
  for (const placed of spans) {
    const frame = spanFrame(design, placed, motion);
    for (const [k, { of }] of placed.supports.entries()) {
      if (of.kind === 'load' || of.attachment !== attachment) continue;
      const { u } = placed.held.span;
      const force = outward(frame, [3, 4, 5].map((c) => u[6 * k + 6 + c] - u[6 * k + c]) as unknown as Vec3);
      if (of.kind === 'edge') {
        if (Math.abs(dot(force, column(seatedWire.axes, 1))) > LEAST_FORCE) touching.height++;
        if (Math.abs(dot(force, column(seatedWire.axes, 2))) > LEAST_FORCE) touching.depth++;
      } else if (of.kind === 'middle') {
        const moment = outward(frame, momentAt(placed, k));
        touching.torque = Math.abs(dot(moment, column(seatedWire.axes, 0))) > LEAST_MOMENT;
      }
    }
  }
  return { turn: applyTransposed(slotAxes, turn), touching };
}

/** N and N mm that the solver may leave of none. */
const LEAST_FORCE = 1e-4;
const LEAST_MOMENT = 1e-3;

/** Moment that the wire loses at a support, about the wire's place there, in the span's frame. */
function momentAt({ held }: PlacedSpan, k: number): Vec3 {
  const { u, position, supports } = held.span;
  const at = 3 * supports!.nodes[k];
  const [mx, my, mz, fx, fy, fz] = [0, 1, 2, 3, 4, 5].map((c) => u[6 * k + 6 + c] - u[6 * k + c]);
  const [x, y, z] = [position[at], position[at + 1], position[at + 2]];
  return [mx - (y * fz - z * fy), my - (z * fx - x * fz), mz - (x * fy - y * fx)];
}

export function loadState(
  design: ApplianceDesign,
  spans: readonly PlacedSpan[],
  index: number,
  motion: number,
): LoadState {
  const load = design.loads[index];
  const places: [Vec3, Vec3] = [
    placeOf(design, spans, load, index, 'from', motion),
    placeOf(design, spans, load, index, 'to', motion),
  ];
  return { force: pullOf(load, norm(subtract(places[1], places[0]))).force, places };
}

function placeOf(
  design: ApplianceDesign,
  spans: readonly PlacedSpan[],
  load: Load,
  index: number,
  end: 'from' | 'to',
  motion: number,
): Vec3 {
  const place: LoadPlace = load[end];
  if (place.on === 'attachment') return seatAt(design, place.attachment, motion).position;
  const wire = supportedAt(
    design,
    spans,
    motion,
    ({ of }) => of.kind === 'load' && of.load === index && of.end === end,
  );
  return wire ? wire.pose.position : [0, 0, 0];
}

/** The wire's pose at a support, facing its own direction, in the outer frame; how far along the wire that is from its own place. */
function supportedAt(
  design: ApplianceDesign,
  spans: readonly PlacedSpan[],
  motion: number,
  wanted: (place: SupportPlace) => boolean,
): { readonly pose: Pose; readonly slid: number } | undefined {
  for (const placed of spans) {
    const k = placed.supports.findIndex(wanted);
    if (k < 0) continue;
    const { position, rotation, supports } = placed.held.span;
    const node = supports!.nodes[k];
    const pose = compose(spanFrame(design, placed, motion), {
      position: [position[3 * node], position[3 * node + 1], position[3 * node + 2]],
      axes: quaternionMatrix(rotation, 4 * node),
    });
    const slid = supports!.slid[k];
    return placed.reversed ? { pose: turnRound(pose), slid: -slid } : { pose, slid };
  }
  return undefined;
}
