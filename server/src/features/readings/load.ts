/** Readings at elastics, coil springs and ligatures: how hard each pulls, and over which distance. */
import { FORCE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { loadSense } from '#model/contacts';
import { loadLength } from '#model/results';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';
import { type Reading, workingState } from './reading';

export function loadReadings(evaluated: SnapshotAppliance, { units }: Settings): Reading[] {
  const { appliance, design, stale } = evaluated;
  const state = workingState(evaluated);
  const nodes = appliance.node.members.filter((member) => member.kind === 'load');
  // An earlier text may have had other loads.
  if (state === undefined || design === undefined || design.loads.length !== nodes.length) return [];
  return nodes.flatMap(({ span }, index): Reading[] => {
    const load = state.loads[index];
    if (load === undefined) return [];
    const length = formatQuantity({ value: loadLength(load), dimension: LENGTH });
    const force = formatQuantity({ value: Math.abs(load.force), dimension: FORCE }, units);
    const sense = loadSense(load);
    const at =
      design.activation === undefined
        ? 'When engaged'
        : `At ${formatQuantity({ value: state.activation, dimension: LENGTH })} from neutral`;
    const does = {
      pulls: `it pulls its two ends together with ${force}`,
      pushes: `it pushes its two ends apart with ${force}`,
      slack: 'it is slack',
    };
    return [
      {
        ...{ span, line: 'last', kind: 'forces', stale },
        text: sense === 'slack' ? `slack over ${length}` : `${sense} ${force} over ${length}`,
        detail: `${at} ${does[sense]}, over a distance of ${length}.`,
      },
    ];
  });
}
