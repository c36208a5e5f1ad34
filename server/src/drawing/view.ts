/** Orthographic views of the quadrant frame (x mesial, y gingival, z buccal) and their place on the canvas. */
import type { Vec3 } from '#core/math/vector';

export interface View {
  readonly name: 'buccal' | 'occlusal';
  /** Axes and signs: canvas right, canvas up, toward the eye. */
  readonly right: Axis;
  readonly up: Axis;
  readonly toward: Axis;
}

interface Axis {
  readonly index: 0 | 1 | 2;
  readonly sign: 1 | -1;
  /** The anatomical direction. */
  readonly name: string;
}

const mesial: Axis = { index: 0, sign: 1, name: 'mesial' };

/** From the cheek: mesial to the right, gingival up. */
export const buccalView: View = {
  name: 'buccal',
  right: mesial,
  up: { index: 1, sign: 1, name: 'gingival' },
  toward: { index: 2, sign: 1, name: 'buccal' },
};

/** From the biting side: mesial to the right, buccal up. */
export const occlusalView: View = {
  name: 'occlusal',
  right: mesial,
  up: { index: 2, sign: 1, name: 'buccal' },
  toward: { index: 1, sign: -1, name: 'occlusal' },
};

/** A point on the canvas with its nearness to the eye, mm. */
export interface Projected {
  readonly x: number;
  readonly y: number;
  readonly nearness: number;
}

export interface Projection {
  readonly view: View;
  /** Canvas units per mm. */
  readonly scale: number;
  /** Canvas place of the frame's origin. */
  readonly origin: readonly [number, number];
}

export function project(projection: Projection, point: Vec3): Projected {
  const { view, scale, origin } = projection;
  return {
    x: origin[0] + scale * along(view.right, point),
    y: origin[1] - scale * along(view.up, point),
    nearness: along(view.toward, point),
  };
}

/** Component of a vector along a view's axis. */
export function along(axis: Axis, vector: Vec3): number {
  return axis.sign * vector[axis.index];
}
