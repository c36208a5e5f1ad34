/** The free shape of a wire that has yielded: its spans as released, one after the other, and what hangs on to them. */
import type { ApplianceDesign, Loop, Pose } from '../design';
import { type Centreline, poseAt } from '../geometry/centreline';
import { freeLoopState, loopState } from '../geometry/loop-read-outs';
import { compose, relativeTo, slide, turnRound } from '../geometry/pose';
import { quaternionMatrix, rotationVector } from '../math/rotation';
import { apply, identityMatrix, type Mat3, multiply, norm, transpose, type Vec3, zeroVector } from '../math/vector';
import type { PlacedSpan } from '../mechanics/placed-span';
import type { LoopState, Outline } from './analysis';
import { type StressedDraft, sampleSpan } from './span-samples';
import type { WireBearing } from './wire-bearing';

export interface FreeWire {
  readonly passive: Outline;
  readonly passiveLoops: readonly LoopState[];
  /** Pose of the last attachment's seat seen from the first's. */
  readonly lastSeat: Pose;
}

/** From spans whose nodes lie as they do without any force, no wire drawn. */
export function freeWire(
  design: ApplianceDesign,
  spans: readonly PlacedSpan[],
  nominal: Centreline,
  passive: Centreline,
): FreeWire {
  const { attachments } = design;
  const draft: StressedDraft = { stations: [], points: [], sides: [], stresses: [], ratios: [], uses: [] };
  const lowEdge = Math.min(spans[0].from, spans[0].to);
  writeTail(passive, draft, (station) => station < lowEdge, undefined);
  const frames: Pose[] = [];
  let reached = { station: lowEdge, pose: poseAt(passive, lowEdge, 'before') };
  for (const placed of spans) {
    // In the slot between two spans the wire is straight.
    const from = slide(reached.pose, Math.min(placed.from, placed.to) - reached.station);
    const end = nodePose(placed, placed.held.span.mesh.steps, false);
    const frame = placed.reversed ? compose(turnRound(from), relativeTo(end, identityPose)) : from;
    frames.push(frame);
    sampleSpan(placed, frame, 0, UNSTRESSED, draft);
    const to = placed.reversed ? turnRound(frame) : compose(frame, end);
    reached = { station: Math.max(placed.from, placed.to), pose: to };
  }
  const { station: highEdge, pose: is } = reached;
  const was = poseAt(passive, highEdge, 'after');
  writeTail(passive, draft, (station) => station > highEdge, { was, is });
  const seat = (station: number): Pose => {
    for (const [k, placed] of spans.entries()) {
      const pose = poseInSpan(placed, station, 'after');
      if (pose) return compose(frames[k], pose);
    }
    const pose = poseAt(passive, station, 'after');
    return station > highEdge ? compose(is, relativeTo(was, pose)) : pose;
  };
  const firstSeat = seat(attachments[0].station);
  return {
    passive: { stations: draft.stations, points: draft.points, sides: draft.sides },
    passiveLoops: design.loops.map((loop) => loopOf(loop, spans, frames, nominal, passive)),
    lastSeat: relativeTo(firstSeat, seat(attachments[attachments.length - 1].station)),
  };
}

/** Angle between two poses' axes, rad. */
export function turnBetween(a: Pose, b: Pose): number {
  return norm(rotationVector(multiply(transpose(a.axes), b.axes)));
}

const UNSTRESSED: WireBearing = () => ({ stress: () => 0, strength: 1, use: () => 0 });
const identityPose: Pose = { position: zeroVector, axes: identityMatrix };

/** A node's pose in the span's frame, before or behind the corner that may stand there. */
function nodePose({ held }: PlacedSpan, node: number, behind: boolean): Pose {
  const { rotation, position, mesh } = held.span;
  const axes = quaternionMatrix(rotation, 4 * node);
  const pose: Pose = { position: [position[3 * node], position[3 * node + 1], position[3 * node + 2]], axes };
  if (!behind || node === mesh.steps) return pose;
  const [p, q, s, d, e, f] = mesh.axes.subarray(18 * node, 18 * node + 6);
  const corner: Mat3 = [p, e * s - f * q, d, q, f * p - d * s, e, s, d * q - e * p, f];
  return { position: pose.position, axes: multiply(axes, corner) };
}

/** The wire's pose at a station, facing its own direction, in the span's frame; undefined where the span does not hold it. */
function poseInSpan(placed: PlacedSpan, station: number, side: 'before' | 'after'): Pose | undefined {
  const { mesh } = placed.held.span;
  const place = placed.reversed ? placed.from - station : station - placed.from;
  let start = 0;
  for (let i = 0; i < mesh.steps; i++) {
    const end = start + mesh.h[i];
    if (place >= start - SAME && place <= end + SAME && mesh.h[i] > 0) {
      // Feet stand at ends of bends, which are nodes; elsewhere the place is taken along the step's chord.
      const behind = (side === 'after') !== placed.reversed;
      const atEnd = place > end - SAME;
      if (atEnd && behind && i + 1 < mesh.steps) {
        start = end;
        continue;
      }
      const share = Math.min(Math.max((place - start) / mesh.h[i], 0), 1);
      const near = nodePose(placed, share > 0.5 ? i + 1 : i, behind);
      const [a, b] = [nodePose(placed, i, false).position, nodePose(placed, i + 1, false).position];
      const pose: Pose = { position: a.map((x, k) => x + share * (b[k] - x)) as unknown as Vec3, axes: near.axes };
      return placed.reversed ? turnRound(pose) : pose;
    }
    start = end;
  }
  return undefined;
}

const SAME = 1e-7;

function loopOf(
  loop: Loop,
  spans: readonly PlacedSpan[],
  frames: readonly Pose[],
  nominal: Centreline,
  passive: Centreline,
): LoopState {
  const find = (station: number, side: 'before' | 'after'): Pose | undefined => {
    for (const [k, placed] of spans.entries()) {
      const pose = poseInSpan(placed, station, side);
      if (pose) return compose(frames[k], pose);
    }
    return undefined;
  };
  const first = find(loop.feet[0], 'after');
  const second = find(loop.feet[1], 'before');
  if (!first || !second) return freeLoopState(loop, passive, nominal);
  const carried = multiply(first.axes, transpose(poseAt(nominal, loop.feet[0], 'after').axes));
  const foot = ({ position, axes }: Pose) => ({ position, tangent: [axes[0], axes[3], axes[6]] as Vec3 });
  return loopState(foot(first), foot(second), apply(carried, loop.running), apply(carried, loop.normal));
}

/** The wire beyond the free spans as it was bent, moved along with the pose that it hangs on to. */
function writeTail(
  passive: Centreline,
  draft: StressedDraft,
  inTail: (station: number) => boolean,
  moved: { readonly was: Pose; readonly is: Pose } | undefined,
): void {
  for (const [k, station] of passive.stations.entries()) {
    if (!inTail(station)) continue;
    const pose = moved ? compose(moved.is, relativeTo(moved.was, passive.poses[k])) : passive.poses[k];
    draft.stations.push(station);
    draft.points.push(...pose.position);
    draft.sides.push(pose.axes[2], pose.axes[5], pose.axes[8]);
    draft.stresses.push(0);
    draft.ratios.push(0);
    draft.uses.push(0);
  }
}
