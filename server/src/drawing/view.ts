/** Orthographic views of an appliance as a person looking at its side would see it, and their place on the canvas. */
import type { Vec3 } from '#core/math/vector';
import type { Site } from '#model/site';

export interface View {
  /** Which of the section's sizes it shows: the height from the cheek or the front, the width from the biting side. */
  readonly name: 'buccal' | 'occlusal';
  /** "From the cheek" */
  readonly title: string;
  readonly frame: Site['kind'];
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

export interface Views {
  /** The one that is always drawn. */
  readonly main: View;
  /** Drawn too where the wire or its forces leave the main view's plane. */
  readonly second: View;
}

/**
 * A quadrant from the cheek and from the biting side, a whole arch from the biting side and from the front; the patient's
 * right is on the left. Designs are computed in the frame of an upper right quadrant or upper arch: other sides are
 * drawn as the mirror images that they are.
 */
export function viewsOf({ kind, arch, side }: Site): Views {
  const gingival = arch === 'upper' ? axis(1, 1, 'gingival') : axis(1, -1, 'occlusal');
  const occlusal = axis(1, -1, 'occlusal');
  if (kind === 'arch') {
    const right = axis(0, 1, 'left of the patient');
    const anterior = arch === 'upper' ? axis(2, 1, 'anterior') : axis(2, -1, 'posterior');
    const front = axis(2, 1, 'anterior');
    return {
      main: { name: 'occlusal', title: 'From the biting side', frame: kind, right, up: anterior, toward: occlusal },
      second: { name: 'buccal', title: 'From the front', frame: kind, right, up: gingival, toward: front },
    };
  }
  const right = side === 'left' ? axis(0, -1, 'distal') : axis(0, 1, 'mesial');
  const buccal = axis(2, 1, 'buccal');
  const outward = arch === 'upper' ? buccal : axis(2, -1, 'lingual');
  return {
    main: { name: 'buccal', title: 'From the cheek', frame: kind, right, up: gingival, toward: buccal },
    second: { name: 'occlusal', title: 'From the biting side', frame: kind, right, up: outward, toward: occlusal },
  };
}

function axis(index: Axis['index'], sign: Axis['sign'], name: string): Axis {
  return { index, sign, name };
}

/** -1 where the view shows the frame's mirror image, so that turns go the other way round. */
export function senseOfTurns({ right, up, toward }: View): 1 | -1 {
  const even = (up.index - right.index + 3) % 3 === 1;
  return (right.sign * up.sign * toward.sign * (even ? 1 : -1)) as 1 | -1;
}

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
