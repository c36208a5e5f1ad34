/**
 * Seeded random archwires: a straight wire through ten brackets 7 mm apart, each displaced in height and in-out and
 * turned in tip, rotation and torque by up to given amounts. One bracket holds the wire, the others let it slide.
 */
import type { ApplianceDesign, Section } from '#core/design';
import { rotationMatrix } from '#core/math/rotation';
import { multiply } from '#core/math/vector';
import { betaTitanium, design, origin, radians, rectangle, straight } from '../core/designs';

export interface Displacements {
  /** Largest movement in height and in-out, mm. */
  readonly movement: number;
  /** Largest tip, rotation and torque, deg. */
  readonly turn: number;
  /** Room between the wire and its slot in height, and in depth, mm; without it the wire is clamped. */
  readonly play?: number;
  /** Of the brackets along the wire, mm. */
  readonly width: number;
}

export const BRACKETS = 10;
export const SPACING = 7;
/** Wire behind the outer brackets, enough for what slides. */
const BEYOND = 12;

export function randomArchwire(
  random: () => number,
  { movement, turn, play, width }: Displacements,
  section: Section = rectangle(0.016, 0.022),
): ApplianceDesign {
  const upTo = (most: number) => (2 * random() - 1) * most;
  const held = Math.floor(BRACKETS * random());
  const slot = section.kind === 'rectangle' && {
    height: section.height + (play ?? 0),
    depth: section.width + (play ?? 0),
  };
  return design(
    [straight(2 * BEYOND + (BRACKETS - 1) * SPACING)],
    Array.from({ length: BRACKETS }, (_, k) => {
      const [tip, rotation, torque] = [0, 1, 2].map(() => upTo(radians(turn)));
      const tipped = multiply(rotationMatrix([0, 0, tip]), rotationMatrix([0, rotation, 0]));
      return {
        station: BEYOND + k * SPACING,
        length: width,
        moved: [0, upTo(movement), upTo(movement)] as const,
        turned: multiply(multiply(tipped, rotationMatrix([torque, 0, 0])), origin.axes),
        lengthwise: k === held ? ('held' as const) : ('sliding' as const),
        play: play !== undefined,
        ...(slot && { slot }),
      };
    }),
    section,
    betaTitanium,
  );
}
