/** Readings at a loop: how far apart its legs stand and what angle they make. */
import type { LoopState } from '#core/analysis/analysis';
import { ANGLE, LENGTH } from '#core/units/dimension';
import { formatBand, formatQuantity } from '#core/units/format';
import type { SnapshotAppliance } from '#workspace/snapshot';
import { type Reading, workingState } from './reading';

export function loopReadings(evaluated: SnapshotAppliance): Reading[] {
  const { analysis, design, appliance, stale } = evaluated;
  if (analysis === undefined || design === undefined) return [];
  return appliance.loops.flatMap(({ name, span }): Reading[] => {
    const index = design.loops.findIndex((loop) => loop.name === name);
    if (index < 0) return [];
    const working = workingState(evaluated)?.loops[index];
    const states: [string, LoopState | undefined][] = [
      ['nominal', analysis.nominalLoops[index]],
      ['passive', analysis.passiveLoops[index]],
      ['neutral', analysis.neutral?.loops[index]],
      ['working', working],
    ];
    const rows = states.flatMap(([shape, state]) =>
      state === undefined ? [] : [`| ${shape} | ${legGap(state)} | ${legAngle(state)} |`],
    );
    const spread = evaluated.bands?.bands.loops[index];
    if (working !== undefined && spread !== undefined) {
      const gap = formatBand({ value: working.legGap, dimension: LENGTH }, spread.legGap);
      const angle = formatBand({ value: working.legAngle, dimension: ANGLE }, spread.legAngle);
      rows.push(`| working, 19 of 20 wires | ${gap} | ${angle} |`);
    }
    return [
      {
        ...{ span, line: 'last', kind: 'lengths', stale },
        text: working === undefined ? undefined : `leg gap ${legGap(working)}`,
        detail: [
          `Legs of \`${name}\`, feet to feet, centre lines:`,
          '',
          '| | leg gap | leg angle |',
          '| --- | ---: | ---: |',
          ...rows,
        ].join('\n'),
      },
    ];
  });
}

function legGap({ legGap }: LoopState): string {
  const text = formatQuantity({ value: Math.abs(legGap), dimension: LENGTH });
  return legGap < 0 ? `${text}, crossed` : text;
}

function legAngle({ legAngle }: LoopState): string {
  return formatQuantity({ value: legAngle, dimension: ANGLE });
}
