/** What a wire that has yielded keeps of it: how its free shape differs from the shape to which it was bent. */
import type { WireElement } from '../design';
import { addScaled, norm, scale, type Vec3 } from '../math/vector';
import type { InelasticSpan } from '../mechanics/inelastic/inelastic-span';
import type { PlacedSpan } from '../mechanics/placed-span';

/** A stretch of the wire, stations in mm, and the turn that it has taken over its bends, rad, in the wire's section frame. */
export interface TakenSet {
  readonly from: number;
  readonly to: number;
  readonly turn: Vec3;
}

/** Of spans as they were last released; stretches without a set are left out. */
export function takenSet(placed: readonly PlacedSpan[], spans: readonly InelasticSpan[]): TakenSet[] {
  return placed.flatMap((place) => {
    const of = spans.find(({ held }) => held === place.held);
    return of ? setOfSpan(place, of) : [];
  });
}

function setOfSpan({ from, reversed }: PlacedSpan, of: InelasticSpan): TakenSet[] {
  const { span, lengths, free, bent, arms } = of;
  const found: TakenSet[] = [];
  let place = -arms.start.reserve;
  for (let i = 0; i < span.mesh.steps; i++) {
    const length = lengths[i];
    const [twist, up, side] = [0, 1, 2].map(
      (c) => length * ((free[6 * i + c] + free[6 * i + 3 + c]) / 2 - bent[3 * i + c]),
    );
    const turn: Vec3 = reversed ? [twist, -up, side] : [twist, up, side];
    const [near, far] = reversed ? [from - place - length, from - place] : [from + place, from + place + length];
    place += length;
    if (length > 0 && norm(turn) > NO_SET) found.push({ from: near, to: far, turn });
  }
  return found;
}

/** rad */
const NO_SET = 1e-6;

/** The elements of a wire that keeps a set: cut where one begins or ends, with its turn spread over its length. */
export function withSet(elements: readonly WireElement[], set: readonly TakenSet[]): readonly WireElement[] {
  const cut: WireElement[] = [];
  let station = 0;
  for (const element of elements) {
    const end = station + element.length;
    const inside = set.filter(({ from, to }) => to > station + TOUCH && from < end - TOUCH);
    const bounds = [...new Set(inside.flatMap(({ from, to }) => [from, to]))]
      .filter((bound) => bound > station + TOUCH && bound < end - TOUCH)
      .sort((a, b) => a - b);
    const ends = [station, ...bounds, end];
    if (inside.length === 0) cut.push(element);
    else {
      for (let k = 0; k + 1 < ends.length; k++) {
        const [low, high] = [ends[k], ends[k + 1]];
        const share = (high - low) / element.length;
        const middle = (low + high) / 2;
        const kept = inside.find(({ from, to }) => from <= middle && middle <= to);
        const own = scale(element.preactivation, share);
        cut.push({
          ...element,
          length: high - low,
          shape: scale(element.shape, share),
          preactivation: kept ? addScaled(own, kept.turn, (high - low) / (kept.to - kept.from)) : own,
        });
      }
    }
    station = end;
  }
  return cut;
}

/** mm */
const TOUCH = 1e-9;
