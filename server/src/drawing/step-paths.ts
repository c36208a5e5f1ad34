/** The stretches of wire that the steps of the path lay out, invisible until one is pointed at or chosen, with their place in the text. */
import type { Outline } from '#core/analysis/analysis';
import type { PathStep } from '#model/resolved';
import { pointAt } from './dimensions';
import { element, polyline } from './svg';
import { type Projection, project } from './view';

/** Offsets of the step's own item in the appliance's text are in `data-start` and `data-end`. */
export function drawStepPaths(
  steps: readonly PathStep[],
  outline: Outline,
  projection: Projection,
  width: number,
): string {
  const { stations } = outline;
  const paths = steps.flatMap(({ from, to, pathSpan, kind }) => {
    if (!(to > from) || stations.length < 2) return [];
    const inside = [from, ...stations.filter((station) => station > from && station < to), to];
    const places = inside.map((station) => {
      const { x, y } = project(projection, pointAt(outline, station));
      return [x, y] as const;
    });
    return [
      element('path', {
        class: `step ${kind}`,
        d: polyline(places),
        'data-start': pathSpan.start,
        'data-end': pathSpan.end,
        'stroke-width': Math.max(width, 9),
        fill: 'none',
      }),
    ];
  });
  return element('g', { class: 'steps' }, ...paths);
}
