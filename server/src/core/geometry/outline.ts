/** Sampled centrelines: points close enough for smooth drawing. */
import type { Outline } from '../analysis/analysis';
import type { Pose } from '../design';
import { arcDisplacement, rotationMatrix } from '../math/rotation';
import { norm, scale } from '../math/vector';
import { type Centreline, turnOf } from './centreline';

/** Outline under construction. */
export interface OutlineDraft {
  readonly stations: number[];
  readonly points: number[];
  readonly sides: number[];
}

/** Turn between neighbouring points of a bend, rad: chords leave a bend of 1 mm radius by 2 µm. */
export const DRAWN_TURN = Math.PI / 24;

/** The whole free wire. */
export function freeOutline(line: Centreline): Outline {
  return outlineBetween(line, 0, line.elements.length);
}

/** The elements with index `first` to `end` (exclusive), as they lie in the line. */
export function outlineBetween(line: Centreline, first: number, end: number): OutlineDraft {
  const draft: OutlineDraft = { stations: [], points: [], sides: [] };
  for (let k = first; k < end; k++) {
    const element = line.elements[k];
    if (element.length > 0) sampleElement(line, k, draft);
  }
  const last = line.poses[Math.max(first, end)];
  pushPose(draft, line.stations[Math.max(first, end)], last);
  return draft;
}

function pushPose(draft: OutlineDraft, station: number, { position, axes }: Pose): void {
  draft.stations.push(station);
  draft.points.push(position[0], position[1], position[2]);
  draft.sides.push(axes[2], axes[5], axes[8]);
}

/** Points of one element without its end. */
function sampleElement(line: Centreline, k: number, draft: OutlineDraft): void {
  const element = line.elements[k];
  const turn = turnOf(element, line.preactivation);
  const count = Math.max(1, Math.ceil(norm(turn) / DRAWN_TURN - 1e-9));
  const pose = line.poses[k];
  pushPose(draft, line.stations[k], pose);
  if (count === 1) return;
  const length = element.length / count;
  const part = scale(turn, 1 / count);
  const R = rotationMatrix(part);
  const d = arcDisplacement(part, length);
  let [x, y, z] = pose.position;
  let [a0, a1, a2, a3, a4, a5, a6, a7, a8] = pose.axes;
  for (let j = 1; j < count; j++) {
    x += a0 * d[0] + a1 * d[1] + a2 * d[2];
    y += a3 * d[0] + a4 * d[1] + a5 * d[2];
    z += a6 * d[0] + a7 * d[1] + a8 * d[2];
    const b0 = a0 * R[0] + a1 * R[3] + a2 * R[6];
    const b1 = a0 * R[1] + a1 * R[4] + a2 * R[7];
    a2 = a0 * R[2] + a1 * R[5] + a2 * R[8];
    a0 = b0;
    a1 = b1;
    const b3 = a3 * R[0] + a4 * R[3] + a5 * R[6];
    const b4 = a3 * R[1] + a4 * R[4] + a5 * R[7];
    a5 = a3 * R[2] + a4 * R[5] + a5 * R[8];
    a3 = b3;
    a4 = b4;
    const b6 = a6 * R[0] + a7 * R[3] + a8 * R[6];
    const b7 = a6 * R[1] + a7 * R[4] + a8 * R[7];
    a8 = a6 * R[2] + a7 * R[5] + a8 * R[8];
    a6 = b6;
    a7 = b7;
    draft.stations.push(line.stations[k] + j * length);
    draft.points.push(x, y, z);
    draft.sides.push(a2, a5, a8);
  }
}
