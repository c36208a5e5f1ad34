/**
 * Stress along the engaged wire as a scale of colours, and the place that comes first to yield.
 *
 * Colours: ten steps of cividis, made to be read alike with any colour vision and in grey (J. R. Nuñez, C. R. Anderton, R. S.
 * Renslow, "Optimizing colormaps with consideration for color vision deficiency", PLoS ONE 13(7): e0199239, 2018; values as in
 * matplotlib, from memory to a step of its table).
 */
import type { EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { NUMBER, STRESS } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { stockAt } from '#model/stock';
import { text } from './furniture';
import { fontSize, type Label } from './labels';
import { element, polyline } from './svg';
import { type Projection, project } from './view';

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
  readonly label: Label;
}

/** @param width  of the wire on the canvas */
export function drawStress(
  state: EngagedState,
  design: ApplianceDesign,
  projection: Projection,
  width: number,
): DrawnStress {
  const { stations, points } = state.outline;
  const places = stations.map((_, k) => {
    const { x, y } = project(projection, [points[3 * k], points[3 * k + 1], points[3 * k + 2]]);
    return [x, y] as const;
  });
  const steps = stations.map((station, k) => stepOf(state.stresses[k] / stockAt(design, station).alloy.yield));
  const runs: { step: number; from: number; to: number }[] = [];
  for (let k = 0; k + 1 < stations.length; k++) {
    const step = Math.max(steps[k], steps[k + 1]);
    const last = runs.at(-1);
    if (last?.step === step) last.to = k + 1;
    else runs.push({ step, from: k, to: k + 1 });
  }
  const worst = stations.reduce(
    (best, station, k) =>
      Math.abs(station - state.stressStation) < Math.abs(stations[best] - state.stressStation) ? k : best,
    0,
  );
  const [x, y] = places[worst];
  const amount = formatQuantity({ value: state.stress, dimension: STRESS });
  const use = formatQuantity({ value: state.elasticUse, dimension: NUMBER });
  return {
    svg: element(
      'g',
      { class: 'stress', fill: 'none', 'stroke-linejoin': 'round' },
      ...runs.map(({ step, from, to }) =>
        element('path', { d: polyline(places.slice(from, to + 1)), stroke: colours[step], 'stroke-width': width }),
      ),
      element('circle', { class: 'peak', cx: x, cy: y, r: width / 2 + 4 }),
    ),
    label: {
      class: 'peak-label',
      lines: [amount, `largest; ${use} of the elastic range used`],
      anchor: [x, y],
      toward: [0, -1],
      distance: width / 2 + 8,
    },
  };
}

/** The scale from nought to the yield strength. */
export function drawStressScale({ alloy }: ApplianceDesign, left: number, y: number): string {
  const step = 13;
  const end = left + step * colours.length;
  return element(
    'g',
    { class: 'stress-scale' },
    ...colours.map((fill, k) => element('rect', { x: left + step * k, y: y - 8, width: step, height: 8, fill })),
    text(left, y + fontSize, '0', 'quiet'),
    text(end, y + fontSize, `${formatQuantity({ value: alloy.yield, dimension: STRESS })}, yield`, 'quiet', 'middle'),
  );
}

function stepOf(share: number): number {
  return Math.max(0, Math.min(colours.length - 1, Math.floor(share * colours.length)));
}
