import type { Attachment } from '#core/design';
import { column } from '#core/math/vector';
import { ANATOMY, ARCH, type Directions, vectorOf } from '../path/directions';
import type { Site } from '../site';

/** In a whole arch an attachment moves in a direction of the arch, or in one of its own tooth. */
export function directionsAt(attachment: Attachment | undefined, word: string, { kind }: Site): Directions {
  if (kind === 'quadrant') return ANATOMY;
  if (!attachment || vectorOf(word, ARCH) || !vectorOf(word, ANATOMY)) return ARCH;
  const [mesial, gingival, buccal] = ([0, 1, 2] as const).map((k) => column(attachment.axes, k));
  return { mesial, gingival, buccal, words: ANATOMY.words };
}
