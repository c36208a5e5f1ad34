/** The stretches of wire that the steps of the path lay out, invisible until one is pointed at or chosen, with their place in the text. */
import type { Outline } from '#core/analysis/analysis';
import { ANGLE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { PathStep } from '#model/resolved';
import { pointAt } from './dimensions';
import { element, escapeText, polyline } from './svg';
import { type Projection, project } from './view';

/** Offsets of the step's own item in the appliance's text are in `data-start` and `data-end`. */
export function drawStepPaths(
  steps: readonly PathStep[],
  outline: Outline,
  projection: Projection,
  width: number,
): string {
  const { stations } = outline;
  const paths = steps.flatMap((step) => {
    const { from, to, pathSpan, kind } = step;
    if (!(to > from) || stations.length < 2) return [];
    const inside = [from, ...stations.filter((station) => station > from && station < to), to];
    const places = inside.map((station) => {
      const { x, y } = project(projection, pointAt(outline, station));
      return [x, y] as const;
    });
    return [
      element(
        'path',
        {
          class: `step ${kind}`,
          d: polyline(places),
          'data-start': pathSpan.start,
          'data-end': pathSpan.end,
          'stroke-width': Math.max(width, 9),
          fill: 'none',
        },
        element('title', {}, escapeText(words(step))),
      ),
    ];
  });
  return element('g', { class: 'steps' }, ...paths);
}

/** "bend 90 deg, 1.02 mm of wire" */
function words({ kind, angle, from, to }: PathStep): string {
  const turn = angle === undefined ? '' : ` ${formatQuantity({ value: Math.abs(angle), dimension: ANGLE })}`;
  return `${kind}${turn}, ${formatQuantity({ value: to - from, dimension: LENGTH })} of wire`;
}
