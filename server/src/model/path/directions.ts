/** Direction words as vectors: fixed anatomy in an appliance's path, the wire's own frame at its entry in a part. */
import type { Pose } from '#core/design';
import { column, scale, type Vec3 } from '#core/math/vector';
import type { Name } from '#grammar/tree';
import { archDirections, quadrantDirections } from '#grammar/words';
import { unknownDirection } from '../diagnostics/unknown-direction';
import { nearest } from '../names/nearest';
import type { Recorder } from '../names/scope';

/** Three square unit vectors; left-handed inside a mirrored part. In a whole arch they are left, gingival and anterior. */
export interface Directions {
  readonly mesial: Vec3;
  readonly gingival: Vec3;
  readonly buccal: Vec3;
  /** The words of this frame. */
  readonly words: readonly string[];
}

/** Upper right quadrant: x mesial, y gingival, z buccal. */
export const ANATOMY: Directions = {
  mesial: [1, 0, 0],
  gingival: [0, 1, 0],
  buccal: [0, 0, 1],
  words: quadrantDirections,
};

/** Upper arch: x the patient's left, y gingival, z anterior, right-handed; a lower arch is its mirror image. */
export const ARCH: Directions = { ...ANATOMY, words: archDirections };

/** How a part is turned against the wire's frame: signs of its gingival and its buccal. */
export interface Turning {
  readonly up: 1 | -1;
  readonly side: 1 | -1;
}

export const UPRIGHT: Turning = { up: 1, side: 1 };

/** `flip` is a half turn about the tangent, `mirror` a reflection in the plane of tangent and up. */
export function turned(turning: Turning, flip: boolean, mirror: boolean): Turning {
  const half = flip ? -1 : 1;
  return { up: (turning.up * half) as 1 | -1, side: (turning.side * half * (mirror ? -1 : 1)) as 1 | -1 };
}

export function partDirections({ axes }: Pose, turning: Turning): Directions {
  return {
    mesial: column(axes, 0),
    gingival: scale(column(axes, 1), turning.up),
    buccal: scale(column(axes, 2), turning.side),
    words: quadrantDirections,
  };
}

/** The vector of a direction word, or a problem. */
export function directionVector(word: Name | undefined, directions: Directions, recorder: Recorder): Vec3 | undefined {
  if (!word) return undefined;
  const vector = vectorOf(word.text, directions);
  if (!vector) {
    recorder.problem(unknownDirection.at(word.span, word.text, nearest(word.text, directions.words), directions.words));
  }
  return vector;
}

export function vectorOf(word: string, directions: Directions): Vec3 | undefined {
  if (!directions.words.includes(word)) return undefined;
  const { mesial, gingival, buccal } = directions;
  switch (word) {
    case 'mesial':
    case 'left':
      return mesial;
    case 'distal':
    case 'right':
      return scale(mesial, -1);
    case 'gingival':
      return gingival;
    case 'occlusal':
      return scale(gingival, -1);
    case 'buccal':
    case 'anterior':
      return buccal;
    case 'lingual':
    case 'posterior':
      return scale(buccal, -1);
    default:
      return undefined;
  }
}
