/**
 * How hard the engaged wire is strained along its length as a scale of colours, and the place that comes first to yield.
 *
 * Colours: ten steps of cividis, made to be read alike with any colour vision and in grey (J. R. Nuñez, C. R. Anderton, R. S.
 * Renslow, "Optimizing colormaps with consideration for color vision deficiency", PLoS ONE 13(7): e0199239, 2018; values as in
 * matplotlib, from memory to a step of its table).
 */
import type { EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { NUMBER, STRESS } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { stretches } from '#model/stock';
import { pointAt } from './dimensions';
import { text } from './furniture';
import { fontSize, type Label } from './labels';
import { element, polyline } from './svg';
import { type Projection, project } from './view';
import { crossingWire, drawCasing } from './wire';

const colours = [
  '#00224e',
  '#123570',
  '#3b496c',
  '#575d6d',
  '#707173',
  '#8a8678',
  '#a59c74',
  '#c3b369',
  '#e1cc55',
  '#fee838',
];

export interface DrawnStress {
  readonly svg: string;
  /** At the place that yields first. */
  readonly label: Label;
  /** In words, for the scale. */
  readonly largest: string;
}

/**
 * A bend that is loaded against its last sense yields before its stress reaches the yield strength: the scale is the share of the
 * elastic range, not of the strength.
 *
 * @param width  of the wire on the canvas
 */
export function drawStress(
  state: EngagedState,
  design: ApplianceDesign,
  projection: Projection,
  width: number,
): DrawnStress {
  const { outline, uses } = state;
  const { points, stations, crossings } = crossingWire(outline, stretches(design), projection);
  const steps = stepsAt(stations, outline.stations, uses);
  const colour = (from: number, to: number): string =>
    runs(steps, from, to)
      .map(({ step, start, end }) => {
        const d = polyline(points.slice(start, end + 1).map(({ x, y }) => [x, y]));
        return element('path', { d, stroke: colours[step], 'stroke-width': width });
      })
      .join('');
  const first = uses.reduce((best, use, k) => (use > uses[best] ? k : best), 0);
  const { x, y } = project(projection, pointAt(outline, outline.stations[first]));
  const use = formatQuantity({ value: state.elasticUse, dimension: NUMBER });
  const stress = formatQuantity({ value: state.stress, dimension: STRESS });
  return {
    svg: element(
      'g',
      { class: 'stress', fill: 'none', 'stroke-linejoin': 'round' },
      colour(0, points.length - 1),
      ...crossings.map(({ from, to }) =>
        element(
          'g',
          { class: 'over' },
          drawCasing(points, from, to, width),
          colour(Math.max(0, from - 1), Math.min(to + 1, points.length - 1)),
        ),
      ),
      element('circle', { class: 'peak', cx: x, cy: y, r: width / 2 + 4 }),
    ),
    label: {
      class: 'peak-label',
      lines: [`${use} of the elastic range`, state.elasticUse > 1 ? 'yields first here' : 'would yield first here'],
      anchor: [x, y],
      toward: [0, -1],
      distance: width / 2 + 8,
    },
    largest: `largest stress ${stress}`,
  };
}

/** The scale from nought to where the wire yields, with the largest stress beside it. */
export function drawStressScale(largest: string, left: number, y: number): string {
  const step = 13;
  const end = left + step * colours.length;
  return element(
    'g',
    { class: 'stress-scale' },
    ...colours.map((fill, k) => element('rect', { x: left + step * k, y: y - 8, width: step, height: 8, fill })),
    text(left, y + fontSize, 'elastic range: 0', 'quiet', 'middle'),
    text(end, y + fontSize, '1, yields', 'quiet', 'middle'),
    text(end + 12, y, largest, 'quiet'),
  );
}

/** Of each place the larger one of the outline's points around it, so that no peak is lost. */
function stepsAt(places: readonly number[], stations: readonly number[], uses: readonly number[]): number[] {
  let k = 0;
  return places.map((place) => {
    while (k < stations.length - 2 && stations[k + 1] < place) k++;
    return stepOf(place <= stations[k] ? uses[k] : Math.max(uses[k], uses[k + 1] ?? 0));
  });
}

/** Stretches of one colour between two points, that of a piece being the larger one of its ends. */
function runs(steps: readonly number[], from: number, to: number): { step: number; start: number; end: number }[] {
  const found: { step: number; start: number; end: number }[] = [];
  for (let k = from; k < to; k++) {
    const step = Math.max(steps[k], steps[k + 1]);
    const last = found.at(-1);
    if (last?.step === step) last.end = k + 1;
    else found.push({ step, start: k, end: k + 1 });
  }
  return found;
}

function stepOf(share: number): number {
  return Math.max(0, Math.min(colours.length - 1, Math.floor(share * colours.length)));
}
