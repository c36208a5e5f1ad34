/** Poses: composing, inverting and moving along a piece of constant curvature. */
import type { Pose } from '../design';
import { arcDisplacement, rotationMatrix } from '../math/rotation';
import { add, apply, applyTransposed, multiply, subtract, transpose, type Vec3 } from '../math/vector';

/** `inner`, given in the frame of `outer`, seen from outside. */
export function compose(outer: Pose, inner: Pose): Pose {
  return {
    position: add(outer.position, apply(outer.axes, inner.position)),
    axes: multiply(outer.axes, inner.axes),
  };
}

/** `pose` in the frame of `base`. */
export function relativeTo(base: Pose, pose: Pose): Pose {
  return {
    position: applyTransposed(base.axes, subtract(pose.position, base.position)),
    axes: multiply(transpose(base.axes), pose.axes),
  };
}

/** The wire's section frame after a piece that turns by `turn` (in the section frame) over `length`. */
export function advance(pose: Pose, turn: Vec3, length: number): Pose {
  return {
    position: add(pose.position, apply(pose.axes, arcDisplacement(turn, length))),
    axes: multiply(pose.axes, rotationMatrix(turn)),
  };
}

/** Shifted by `distance` along its own tangent. */
export function slide(pose: Pose, distance: number): Pose {
  const { position, axes } = pose;
  return {
    position: [position[0] + axes[0] * distance, position[1] + axes[3] * distance, position[2] + axes[6] * distance],
    axes,
  };
}

/** The section frame turned half round about its up axis: as the wire is seen when it runs the other way. */
export function turnRound({ position, axes: a }: Pose): Pose {
  return { position, axes: [-a[0], a[1], -a[2], -a[3], a[4], -a[5], -a[6], a[7], -a[8]] };
}
