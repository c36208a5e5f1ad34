/** Leg gap and leg angle of a loop from its two feet. */
import type { LoopState } from '../analysis/analysis';
import type { Loop } from '../design';
import { applyTransposed, cross, dot, multiply, subtract, transpose, type Vec3 } from '../math/vector';
import { type Centreline, poseAt } from './centreline';

/** Place and tangent of a foot, in the outer frame; the tangent is that of the leg. */
export interface Foot {
  readonly position: Vec3;
  readonly tangent: Vec3;
}

/**
 * The gap is the second foot minus the first along the nominal running direction; the angle, in the loop's plane,
 * is positive where the legs, seen from their feet, lean toward each other.
 */
export function loopState(first: Foot, second: Foot, running: Vec3, normal: Vec3): LoopState {
  const up: Vec3 = [-second.tangent[0], -second.tangent[1], -second.tangent[2]];
  return {
    legGap: dot(subtract(second.position, first.position), running),
    legAngle: Math.atan2(dot(cross(first.tangent, up), normal), inPlane(first.tangent, up, normal)),
  };
}

/** Of a free wire. Its running direction and plane are carried along with the wire from the nominal shape. */
export function freeLoopState(loop: Loop, line: Centreline, nominal: Centreline): LoopState {
  const first = poseAt(line, loop.feet[0], 'after');
  const second = poseAt(line, loop.feet[1], 'before');
  const carried = multiply(poseAt(nominal, loop.feet[0], 'after').axes, transpose(first.axes));
  return loopState(
    { position: first.position, tangent: [first.axes[0], first.axes[3], first.axes[6]] },
    { position: second.position, tangent: [second.axes[0], second.axes[3], second.axes[6]] },
    applyTransposed(carried, loop.running),
    applyTransposed(carried, loop.normal),
  );
}

/** Scalar product of the parts of two vectors that lie in a plane. */
function inPlane(a: Vec3, b: Vec3, normal: Vec3): number {
  return dot(a, b) - dot(a, normal) * dot(b, normal);
}
