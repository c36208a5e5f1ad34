/** The centreline of a free wire: its frames from constant-curvature elements, exactly. */
import type { Pose, WireElement } from '../design';
import { addScaled, scale, type Vec3 } from '../math/vector';
import { advance } from './pose';

export interface Centreline {
  readonly elements: readonly WireElement[];
  /** Share of the preactivation that is bent in: 0 nominal, 1 passive. */
  readonly preactivation: number;
  /** Station at which each element starts, and the wire's length at the end, mm. */
  readonly stations: readonly number[];
  /** Pose at each of these stations, before the element's turn where the element is a sharp corner. */
  readonly poses: readonly Pose[];
}

export function centreline(elements: readonly WireElement[], start: Pose, preactivation: number): Centreline {
  const stations = [0];
  const poses = [start];
  let pose = start;
  let station = 0;
  for (const element of elements) {
    pose = advance(pose, turnOf(element, preactivation), element.length);
    station += element.length;
    poses.push(pose);
    stations.push(station);
  }
  return { elements, preactivation, stations, poses };
}

/** Total turn of an element as a rotation vector in the wire's section frame. */
export function turnOf(element: WireElement, preactivation: number): Vec3 {
  return addScaled(element.shape, element.preactivation, preactivation);
}

/** Pose at a station; where a sharp corner stands there, on its given side. */
export function poseAt(line: Centreline, station: number, side: 'before' | 'after' = 'after'): Pose {
  const index = elementAt(line.stations, station, side);
  const element = line.elements[index];
  if (!element) return line.poses[0];
  const into = Math.min(Math.max(station - line.stations[index], 0), element.length);
  if (element.length === 0) return line.poses[side === 'before' ? index : index + 1];
  return advance(line.poses[index], scale(turnOf(element, line.preactivation), into / element.length), into);
}

/**
 * Index of the element that holds a station: of those that touch it, the last where `side` is `after`, the
 * first where it is `before`.
 */
export function elementAt(stations: readonly number[], station: number, side: 'before' | 'after'): number {
  const last = stations.length - 2;
  let index = 0;
  if (side === 'after') {
    while (index < last && stations[index + 1] <= station + SAME_STATION) index++;
  } else {
    while (index < last && stations[index + 1] < station - SAME_STATION) index++;
  }
  return index;
}

/** Stations closer than this are one, mm: far below what can be bent, far above rounding. */
export const SAME_STATION = 1e-9;
