/**
 * Keeps an activation curve on one branch of equilibria. A large step may converge to another shape of the wire beyond a
 * fold, so that what comes out would depend on the stages asked for. Along a branch the force along the motion changes by
 * its slope; where a step's change of force does not go with the slopes at its ends, it is taken in smaller ones.
 */
import { advanceTo, motionOf, type Outcome, type WirePath } from '../mechanics/continuation';
import { activationDrive, setControls } from '../mechanics/held-span';
import { clear, remember } from '../mechanics/history';
import { spanLength } from '../mechanics/newton';
import { restoreState, saveState, stateSize } from '../mechanics/span';
import { forceAlong } from '../mechanics/supports/moved-supports';

/** The latest equilibrium that is known to lie on the branch. */
export interface BranchPoint {
  motion: number;
  /** Of all controls, mm. */
  readonly amounts: Float64Array;
  /** Along the motion, N, and per mm of it. */
  force: number;
  stiffness: number;
  readonly states: readonly Float64Array[];
}

/** At the path's present equilibrium, fully engaged. */
export function branchPoint(path: WirePath): BranchPoint {
  const states = path.spans.map(({ span }) => new Float64Array(stateSize(span)));
  const point = { motion: 0, amounts: path.controls.amounts.slice(), force: 0, stiffness: 0, states };
  record(point, path);
  return point;
}

/** Along the motion to the given amount; `from` is the path's present equilibrium, and is the one reached afterwards. */
export function advanceOnBranch(path: WirePath, from: BranchPoint, motion: number): Outcome {
  const smallest = SMALLEST_STEP * Math.abs(motion - from.motion);
  let size = motion - from.motion;
  while (from.motion !== motion) {
    const left = motion - from.motion;
    const target = Math.abs(size) > 0.99 * Math.abs(left) ? motion : from.motion + size;
    const outcome = advanceTo(path, target);
    if (!outcome.ok) return outcome;
    const snapped = outcome.snapped !== undefined;
    if (!snapped && follows(from, path)) {
      record(from, path);
      size *= 2;
    } else if (Math.abs(target - from.motion) > smallest) {
      // Nearer to where it happens: the place must not depend on the stages asked for.
      goBack(path, from);
      size = (target - from.motion) / 2;
    } else if (snapped || leftItsPlace(path, from)) {
      const place = from.motion;
      record(from, path);
      return { ok: true, snapped: place };
    } else {
      record(from, path);
    }
  }
  return { ok: true, snapped: undefined };
}

/** Of a stage, in which a change of shape is looked for at most. */
const SMALLEST_STEP = 1 / 64;

/** How far the change of force may be from what the mean of the slopes makes it, as a part of the slopes and of the force. */
const SLOPE_ERROR = 0.1;
const FORCE_ERROR = 1e-3;
/** N, that the solver leaves of a force that is nothing. */
const NOISE = 1e-5;

function follows(from: BranchPoint, path: WirePath): boolean {
  const size = motionOf(path) - from.motion;
  const force = forceAlongMotion(path);
  const departure = Math.abs(force - from.force - 0.5 * (from.stiffness + path.stiffness) * size);
  const slopes = 0.5 * (Math.abs(from.stiffness) + Math.abs(path.stiffness)) * Math.abs(size);
  return departure <= SLOPE_ERROR * slopes + FORCE_ERROR * (Math.abs(force) + Math.abs(from.force)) + NOISE;
}

function forceAlongMotion({ spans }: WirePath): number {
  let force = 0;
  for (const held of spans) {
    const drive = activationDrive(held);
    if (drive) force += drive.sign * forceAlong(held, drive);
  }
  return force;
}

function record(point: BranchPoint, path: WirePath): void {
  point.amounts.set(path.controls.amounts);
  point.motion = motionOf(path);
  point.force = forceAlongMotion(path);
  point.stiffness = path.stiffness;
  for (let k = 0; k < path.spans.length; k++) saveState(path.spans[k].span, point.states[k]);
}

function goBack(path: WirePath, { amounts, stiffness, states }: BranchPoint): void {
  path.controls.amounts.set(amounts);
  for (let k = 0; k < path.spans.length; k++) {
    restoreState(path.spans[k].span, states[k]);
    setControls(path.spans[k], 1, amounts);
  }
  path.stiffness = stiffness;
  clear(path.history);
  remember(path.history, path.spans, amounts[0], path.controls);
}

/** Whether a node has moved by more than a hundredth of the wire over so small a step. */
function leftItsPlace({ spans }: WirePath, { states }: BranchPoint): boolean {
  return spans.some(({ span }, k) => {
    const first = span.u.length + span.rotation.length;
    const limit = 0.01 * spanLength(span);
    return span.position.some((x, i) => Math.abs(x - states[k][first + i]) > limit);
  });
}
