/** Attachments as plain slots: a drawing of our own that says what kind it is and where the wire is held. */

import type { Attachment } from '#core/design';
import type { Vec3 } from '#core/math/vector';
import { element } from './svg';
import { along, type Projection, project } from './view';

export interface DrawnAttachment {
  readonly svg: string;
  /** Canvas place of the slot's centre. */
  readonly centre: readonly [number, number];
  /** Half the drawn size along the canvas axes. */
  readonly half: readonly [number, number];
}

/**
 * @param attachment  as designed
 * @param position  where it stands now, mm (an activation may have moved it)
 * @param wireWidth  of the wire on the canvas
 */
export function drawAttachment(
  attachment: Attachment,
  position: Vec3,
  projection: Projection,
  wireWidth: number,
): DrawnAttachment {
  const { x, y } = project(projection, position);
  // First column of the slot's axes: its mesial direction.
  const [m00, , , m10, , , m20] = attachment.slotAxes;
  const mesial: Vec3 = [m00, m10, m20];
  const angle = -Math.atan2(along(projection.view.up, mesial), along(projection.view.right, mesial));
  const long = Math.max(attachment.length * projection.scale, 14) / 2;
  const clear = wireWidth / 2 + 1.5;
  const wall = 5;
  const shapes: Record<Attachment['fitting'], () => string[]> = {
    tube: () => [box(-long, -clear - wall, 2 * long, 2 * (clear + wall), 2.5)],
    bracket: () => [
      box(-long, -clear - wall, 2 * long, wall, 1.5),
      box(-long, clear, 2 * long, wall, 1.5),
      box(-long + 3, -clear, 2 * long - 6, 2 * clear, 0, 'pad'),
    ],
    hook: () => [
      element('path', {
        class: 'rim',
        d: `M${-clear - 4} ${-clear - 2}A${clear + 4} ${clear + 4} 0 1 0 ${clear + 4} ${-clear - 2}`,
        fill: 'none',
      }),
    ],
    eyelet: () => [element('circle', { class: 'rim', cx: 0, cy: 0, r: clear + 4, fill: 'none' })],
  };
  const flat = attachment.fitting === 'tube' || attachment.fitting === 'bracket';
  const halfLong = flat ? long : clear + 4;
  const halfHigh = flat ? clear + wall : clear + 4;
  return {
    svg: element(
      'g',
      {
        class: `attachment ${attachment.fitting}`,
        transform: `translate(${round(x)} ${round(y)}) rotate(${round((angle * 180) / Math.PI)})`,
      },
      ...shapes[attachment.fitting](),
    ),
    centre: [x, y],
    half: [
      Math.abs(Math.cos(angle)) * halfLong + Math.abs(Math.sin(angle)) * halfHigh,
      Math.abs(Math.sin(angle)) * halfLong + Math.abs(Math.cos(angle)) * halfHigh,
    ],
  };
}

function box(x: number, y: number, width: number, height: number, rx: number, name = 'wall'): string {
  return element('rect', { class: name, x, y, width, height, rx });
}

function round(value: number): number {
  return Math.round(value * 100) / 100 || 0;
}
