/** Permanent teeth by their ISO 3950 numbers: quadrant (1 upper right, 2 upper left, 3 lower left, 4 lower right) and place from the midline. */

export interface Tooth {
  /** As written, e.g. 16. */
  readonly number: number;
  readonly arch: 'upper' | 'lower';
  readonly side: 'right' | 'left';
  /** 1 central incisor … 8 third molar. */
  readonly position: number;
}

/** The tooth of a number as written; undefined where there is none. */
export function toothOf(text: string): Tooth | undefined {
  if (!/^[1-4][1-8]$/.test(text)) return undefined;
  const number = Number(text);
  const quadrant = Math.floor(number / 10);
  return {
    number,
    arch: quadrant <= 2 ? 'upper' : 'lower',
    side: quadrant === 1 || quadrant === 4 ? 'right' : 'left',
    position: number % 10,
  };
}

/** Teeth from one to another round the arch, both included; undefined where they stand in different arches. */
export function teethBetween(from: Tooth, to: Tooth): Tooth[] | undefined {
  if (from.arch !== to.arch) return undefined;
  const [start, end] = [fromRight(from), fromRight(to)];
  const step = Math.sign(end - start) || 1;
  return Array.from({ length: Math.abs(end - start) + 1 }, (_, k) => fromPlace(start + k * step, from.arch));
}

/** `upper_first_molar`: how the bundled tooth data calls it. */
export function toothName({ arch, position }: Tooth): string {
  return `${arch}_${NAMES[position - 1]}`;
}

/** "upper right first molar" */
export function toothPhrase({ arch, side, position }: Tooth): string {
  return `${arch} ${side} ${NAMES[position - 1].replace('_', ' ')}`;
}

/** The tooth of the same arch and side at another place from the midline. */
export function neighbour(tooth: Tooth, position: number): Tooth {
  return { ...tooth, position, number: 10 * Math.floor(tooth.number / 10) + position };
}

const NAMES = [
  'central_incisor',
  'lateral_incisor',
  'canine',
  'first_premolar',
  'second_premolar',
  'first_molar',
  'second_molar',
  'third_molar',
] as const;

/** -8 … -1 on the right, 0 … 7 on the left. */
function fromRight({ side, position }: Tooth): number {
  return side === 'right' ? -position : position - 1;
}

function fromPlace(place: number, arch: Tooth['arch']): Tooth {
  const side = place < 0 ? 'right' : 'left';
  const quadrant = arch === 'upper' ? (side === 'right' ? 1 : 2) : side === 'left' ? 3 : 4;
  const position = place < 0 ? -place : place + 1;
  return { number: 10 * quadrant + position, arch, side, position };
}
