/**
 * In which order the bends are made: from a fixed reference outward, preactivation (gable and anti-rotation bends, twists)
 * last. Common practice, no source.
 */

import type { Loop } from '#core/design';
import type { BendingTable } from '#core/forming/bending-table';

/** Bends, counted from 0 along the wire, in the order in which they are made. */
export interface WorkStep {
  readonly stage: 'shape' | 'preactivation';
  /** Where the work starts: the middle of a loop, of a helix, or of the wire; mm from the cut end. */
  readonly reference: {
    readonly at: 'loop' | 'helix' | 'middle';
    readonly name: string | undefined;
    readonly station: number;
  };
  readonly bends: readonly number[];
}

interface Planned {
  readonly bends: readonly { readonly preactivation: boolean }[];
  readonly exact: BendingTable;
}

export function orderOfWork(
  { bends, exact: { lead, rows } }: Planned,
  middle: number,
  loops: readonly Loop[],
  holding: number,
): readonly WorkStep[] {
  const middles: number[] = [];
  let station = lead;
  for (const { length, toNext } of rows) {
    middles.push(station + length / 2);
    station += length + toNext;
  }
  const reference = referenceOf(middles, rows, middle, loops, holding);
  const stages = ['shape', 'preactivation'] as const;
  return stages.flatMap((stage): WorkStep[] => {
    const own = rows.map((_, index) => index).filter((index) => bends[index].preactivation === (stage !== 'shape'));
    if (own.length === 0) return [];
    const beyond = own.filter((index) => middles[index] >= reference.station - SAME_PLACE);
    const before = own.filter((index) => !beyond.includes(index)).reverse();
    return [{ stage, reference, bends: [...beyond, ...before] }];
  });
}

function referenceOf(
  middles: readonly number[],
  rows: BendingTable['rows'],
  middle: number,
  loops: readonly Loop[],
  holding: number,
): WorkStep['reference'] {
  const [loop] = loops;
  if (loop) return { at: 'loop', name: loop.name, station: holding + (loop.feet[0] + loop.feet[1]) / 2 };
  const helix = rows.findIndex(({ kind }) => kind === 'helix');
  if (helix >= 0) return { at: 'helix', name: undefined, station: middles[helix] };
  return { at: 'middle', name: undefined, station: middle };
}

/** mm */
const SAME_PLACE = 1e-6;
