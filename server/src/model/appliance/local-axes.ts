/** A tooth's own mesial, gingival and buccal in a whole arch: from its number or from `facing`, never guessed. */
import { column, cross, dot, type Mat3, norm, scale, type Vec3 } from '#core/math/vector';
import type { Name } from '#grammar/tree';
import { ARCH, vectorOf } from '../path/directions';
import type { Seat } from '../path/layout';
import { type Tooth, toothPhrase } from '../teeth';

/**
 * Columns mesial, gingival, buccal in the arch frame; left-handed on the patient's left. A text says why they are not
 * known. With `facing`, buccal points there and mesial is anterior (facing left or right) or toward the midline
 * (facing anterior, which needs the tooth); without, mesial runs along the wire at the seat.
 */
export function localAxes(tooth: Tooth | undefined, facing: Name | undefined, seat: Seat): Mat3 | string {
  if (facing) return facingAxes(tooth, facing.text);
  if (!tooth) return 'it is on no tooth and does not say where it faces.';
  const [x, , z] = column(seat.pose.axes, 0);
  const flat: Vec3 = [x, 0, z];
  // On the way from the last tooth of a side to the midline the wire goes anterior and toward the other side.
  const towardMidline: Vec3 = scale([tooth.side === 'right' ? 1 : -1, 0, 1], Math.SQRT1_2);
  const along = dot(flat, towardMidline);
  if (Math.abs(along) < LEAST_ALONG) {
    return `the wire does not run along the arch at its seat, so that tooth ${tooth.number} alone does not tell.`;
  }
  const mesial = scale(flat, Math.sign(along) / norm(flat));
  return axesOf(mesial, scale(cross(mesial, GINGIVAL), tooth.side === 'right' ? 1 : -1));
}

function facingAxes(tooth: Tooth | undefined, word: string): Mat3 | string {
  const buccal = vectorOf(word, ARCH);
  switch (word) {
    case 'left':
    case 'right':
      if (tooth && tooth.side !== word)
        return `it faces ${word}, but tooth ${tooth.number} is the ${toothPhrase(tooth)}.`;
      return axesOf(ANTERIOR, buccal ?? ANTERIOR);
    case 'anterior':
      if (!tooth) return 'facing anterior, it could stand on either side of the midline; its tooth tells which.';
      return axesOf([tooth.side === 'right' ? 1 : -1, 0, 0], ANTERIOR);
    default:
      return `buccal points left, right or anterior, not ${word}.`;
  }
}

function axesOf(mesial: Vec3, buccal: Vec3): Mat3 {
  return [mesial[0], 0, buccal[0], mesial[1], 1, buccal[1], mesial[2], 0, buccal[2]];
}

const GINGIVAL: Vec3 = [0, 1, 0];
const ANTERIOR: Vec3 = [0, 0, 1];
/** Sine of 15°. */
const LEAST_ALONG = Math.sin(Math.PI / 12);
