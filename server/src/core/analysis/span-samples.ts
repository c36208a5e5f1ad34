/** Points, stresses and feet along a deformed span, in the outer frame. */
import type { Pose } from '../design';
import type { Foot } from '../geometry/loop-read-outs';
import { DRAWN_TURN, type OutlineDraft } from '../geometry/outline';
import { add, apply, norm } from '../math/vector';
import type { PlacedSpan } from '../mechanics/placed-span';
import type { Bearing, WireBearing } from './wire-bearing';

export interface StressedDraft extends OutlineDraft {
  readonly stresses: number[];
  /** Each over the yield strength there, and the share of the elastic range that it uses. */
  readonly ratios: number[];
  readonly uses: number[];
}

/**
 * Appends a span's points in the wire's own direction. Between nodes the line is the cubic through their places
 * and tangents. `drawn` is the wire drawn out at the span's start.
 */
export function sampleSpan(
  placed: PlacedSpan,
  frame: Pose,
  drawn: number,
  bears: WireBearing,
  draft: StressedDraft,
): void {
  const { span } = placed.held;
  const { mesh } = span;
  const sign = placed.reversed ? -1 : 1;
  let station = placed.from + sign * drawn;
  const begin = draft.stations.length;
  for (let k = 0; k < mesh.pieces.length; k++) {
    const { shape, preactivation } = mesh.pieces[k];
    const bearing = bears(mesh.pieces[k]);
    const count = mesh.firstStep[k + 1] - mesh.firstStep[k];
    const turn = norm(add(shape, preactivation)) / count;
    const points = Math.max(1, Math.ceil(turn / DRAWN_TURN - 1e-9));
    for (let i = mesh.firstStep[k]; i < mesh.firstStep[k + 1]; i++) {
      const h = mesh.h[i];
      if (h > 0) {
        stepEnds(placed, i);
        for (let j = 0; j < points; j++)
          push(placed, frame, i, j / points, station + (sign * h * j) / points, bearing, draft);
      }
      station += sign * h;
    }
  }
  stepEnds(placed, mesh.steps - 1);
  push(
    placed,
    frame,
    mesh.steps - 1,
    1,
    placed.reversed && placed.end !== undefined ? placed.to : station,
    bears(mesh.pieces[mesh.pieces.length - 1]),
    draft,
  );
  if (placed.reversed) reverse(draft, begin);
}

/** A foot that lies in the span, at a station of the wire. */
export function footInSpan(
  placed: PlacedSpan,
  frame: Pose,
  drawn: number,
  station: number,
  side: 'before' | 'after',
): Foot | undefined {
  const { mesh } = placed.held.span;
  const sign = placed.reversed ? -1 : 1;
  const place = sign * (station - placed.from) - drawn;
  if (place < -SAME) return undefined;
  // In the direction of integration, `after` is the end of a step where the wire is run the other way.
  const late = (side === 'after') !== placed.reversed;
  let start = 0;
  for (let i = 0; i < mesh.steps; i++) {
    const h = mesh.h[i];
    const last = i === mesh.steps - 1;
    if (h > 0 && (late && !last ? place < start + h - SAME : place <= start + h + SAME)) {
      stepEnds(placed, i);
      const t = Math.min(Math.max((place - start) / h, 0), 1);
      hermite(h, t);
      const tangent = apply(frame.axes, [at[3], at[4], at[5]]);
      const size = sign / norm(tangent);
      return {
        position: add(frame.position, apply(frame.axes, [at[0], at[1], at[2]])),
        tangent: [tangent[0] * size, tangent[1] * size, tangent[2] * size],
      };
    }
    start += h;
  }
  return undefined;
}

const SAME = 1e-7;

/** Place, tangent and side axis at the start and end of a step: 9 + 9 numbers. */
const ends = new Float64Array(18);
/** Place and derivative by the step's fraction over its length: 6 numbers. */
const at = new Float64Array(6);

function stepEnds({ held }: PlacedSpan, i: number): void {
  const { mesh, rotation, position } = held.span;
  for (let k = 0; k < 3; k++) {
    ends[k] = position[3 * i + k];
    ends[9 + k] = position[3 * i + 3 + k];
  }
  rotateInto(rotation, 4 * i, mesh.axes, 18 * i, 3);
  rotateInto(rotation, 4 * i, mesh.axes, 18 * i + 3, 6);
  rotateInto(rotation, 4 * i + 4, unitAxes, 0, 12);
  rotateInto(rotation, 4 * i + 4, unitAxes, 3, 15);
}

const unitAxes = Float64Array.of(1, 0, 0, 0, 0, 1);

function rotateInto(q: Float64Array, o: number, v: Float64Array, from: number, to: number): void {
  const w = q[o];
  const x = q[o + 1];
  const y = q[o + 2];
  const z = q[o + 3];
  const tx = 2 * (y * v[from + 2] - z * v[from + 1]);
  const ty = 2 * (z * v[from] - x * v[from + 2]);
  const tz = 2 * (x * v[from + 1] - y * v[from]);
  ends[to] = v[from] + w * tx + y * tz - z * ty;
  ends[to + 1] = v[from + 1] + w * ty + z * tx - x * tz;
  ends[to + 2] = v[from + 2] + w * tz + x * ty - y * tx;
}

/** Cubic through the step's ends at the fraction t. */
function hermite(h: number, t: number): void {
  const s = 1 - t;
  const p0 = (1 + 2 * t) * s * s;
  const p1 = t * t * (3 - 2 * t);
  const m0 = h * t * s * s;
  const m1 = -h * t * t * s;
  // A step of no length is a corner behind the last of the wire.
  const d = h > 0 ? (6 * t * s) / h : 0;
  const e0 = s * (1 - 3 * t);
  const e1 = t * (3 * t - 2);
  for (let k = 0; k < 3; k++) {
    at[k] = p0 * ends[k] + p1 * ends[9 + k] + m0 * ends[3 + k] + m1 * ends[12 + k];
    at[3 + k] = d * (ends[9 + k] - ends[k]) + e0 * ends[3 + k] + e1 * ends[12 + k];
  }
}

function push(
  { held }: PlacedSpan,
  frame: Pose,
  i: number,
  t: number,
  station: number,
  bearing: Bearing,
  draft: StressedDraft,
): void {
  const { u, mesh } = held.span;
  hermite(mesh.h[i], t);
  const x = at[0];
  const y = at[1];
  const z = at[2];
  const size = 1 / Math.sqrt(at[3] * at[3] + at[4] * at[4] + at[5] * at[5]);
  const d1x = at[3] * size;
  const d1y = at[4] * size;
  const d1z = at[5] * size;
  let sx = (1 - t) * ends[6] + t * ends[15];
  let sy = (1 - t) * ends[7] + t * ends[16];
  let sz = (1 - t) * ends[8] + t * ends[17];
  const sideSize = 1 / Math.sqrt(sx * sx + sy * sy + sz * sz);
  sx *= sideSize;
  sy *= sideSize;
  sz *= sideSize;
  const force = held.span.segment[i];
  const mx = u[force] - y * u[force + 5] + z * u[force + 4];
  const my = u[force + 1] - z * u[force + 3] + x * u[force + 5];
  const mz = u[force + 2] - x * u[force + 4] + y * u[force + 3];
  const torque = mx * d1x + my * d1y + mz * d1z;
  const momentSide = mx * sx + my * sy + mz * sz;
  const momentUp = mx * (sy * d1z - sz * d1y) + my * (sz * d1x - sx * d1z) + mz * (sx * d1y - sy * d1x);
  const { position, axes: a } = frame;
  draft.stations.push(station);
  draft.points.push(
    position[0] + a[0] * x + a[1] * y + a[2] * z,
    position[1] + a[3] * x + a[4] * y + a[5] * z,
    position[2] + a[6] * x + a[7] * y + a[8] * z,
  );
  draft.sides.push(
    a[0] * sx + a[1] * sy + a[2] * sz,
    a[3] * sx + a[4] * sy + a[5] * sz,
    a[6] * sx + a[7] * sy + a[8] * sz,
  );
  const tension = u[force + 3] * d1x + u[force + 4] * d1y + u[force + 5] * d1z;
  const stress = bearing.stress(tension, torque, momentUp, momentSide);
  draft.stresses.push(stress);
  draft.ratios.push(stress / bearing.strength);
  draft.uses.push(bearing.use(stress, momentUp, momentSide));
}

/** Turns the points from `begin` on into the wire's own direction; its section frame is turned back. */
function reverse(draft: StressedDraft, begin: number): void {
  for (let i = begin, j = draft.stations.length - 1; i < j; i++, j--) {
    swap(draft.stations, i, j);
    swap(draft.stresses, i, j);
    swap(draft.ratios, i, j);
    swap(draft.uses, i, j);
    for (let k = 0; k < 3; k++) {
      swap(draft.points, 3 * i + k, 3 * j + k);
      swap(draft.sides, 3 * i + k, 3 * j + k);
    }
  }
  for (let k = 3 * begin; k < draft.sides.length; k++) draft.sides[k] = -draft.sides[k];
}

function swap(a: number[], i: number, j: number): void {
  const keep = a[i];
  a[i] = a[j];
  a[j] = keep;
}
