/** A drawing in words: its title, what it shows for those who do not see it, its heading with the legend. */
import type { LoadState } from '#core/analysis/analysis';
import { FORCE, LENGTH, MOMENT } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import { loadName, loadSense } from '#model/contacts';
import { type Effect, effects } from '#model/effects';
import { negligible } from './force-system';
import { drawLegend, legendRows, legendWidth, text } from './furniture';
import { textWidth } from './labels';
import type { Scene } from './scene';
import { element } from './svg';
import type { Shape } from './wire';

/** From the drawing board to the mouth. */
const shapeOrder = ['nominal', 'passive', 'neutral', 'engaged', 'auxiliary'] as const;

/** Name and legend side by side, or one below the other where the canvas is narrow. */
export function drawHeader(scene: Scene): { svg: string; bottom: number } {
  const { state, width } = scene;
  const names: Record<Exclude<Shape, 'compared'>, string> = {
    nominal: 'nominal',
    passive: 'passive',
    neutral: 'neutral',
    engaged:
      scene.design.activation === undefined || state === undefined
        ? 'engaged'
        : `engaged at ${millimetres(state.activation)}`,
    auxiliary: 'auxiliary',
  };
  const own = shapeOrder.filter((shape) => scene.shapes.some((shown) => shown.shape === shape));
  const compared = scene.shapes.flatMap((shown) => shown.compared ?? []);
  const entries = [
    ...own.map((shape) => ({ shape, name: names[shape] })),
    ...compared.map(({ name, number }) => ({
      shape: 'compared' as const,
      name: compared.length > 1 ? `${number} ${name}` : name,
      number,
    })),
  ];
  // The heading's letters are a quarter larger and bold.
  const beside = 24 + 1.4 * textWidth(scene.name) + 24 + legendWidth(entries) <= width - 24;
  const rows = beside ? [entries] : legendRows(entries, width - 48);
  const first = beside ? 26 : 54;
  const rule = first + (rows.length - 1) * 22 + 20;
  const svg = element(
    'g',
    { class: 'header' },
    text(24, 30, scene.name, 'heading'),
    ...rows.map((row, index) => drawLegend(row, beside ? width - 24 : 24 + legendWidth(row), first + index * 22)),
    element('path', { class: 'divider', d: `M24 ${rule}H${width - 24}` }),
  );
  return { svg, bottom: rule + 16 };
}

export function title({ name, state, design }: Scene): string {
  if (state === undefined) return `${name}: outline to scale`;
  return design.activation === undefined
    ? `${name}: outline to scale, engaged`
    : `${name}: outline to scale at ${millimetres(state.activation)} of activation`;
}

export function description({ design, state, units, forces, marks, views: { main } }: Scene): string {
  const frame = `Seen ${main.title.toLowerCase()}: ${main.right.name} to the right, ${main.up.name} up.`;
  if (state === undefined) return `${frame} No equilibrium to show.`;
  const sentences = design.attachments.map(({ name }, index) => {
    const acting = effects(state.wrenches[index]).filter(({ kind, amount }) => amount > negligible * forces[kind]);
    if (acting.length === 0) return `${name}: no force.`;
    return `${name}: ${acting.map((effect) => `${amountText(effect, units)} ${effect.words}`).join(', ')}.`;
  });
  const pulls = design.loads.map(
    (load, k) => `${loadName(load, design, { marks })}: ${pullWords(state.loads[k], units)}.`,
  );
  return [frame, ...sentences, ...pulls].join(' ');
}

export function pullWords(load: LoadState, units: UnitPreferences): string {
  const sense = loadSense(load);
  if (sense === 'slack') return sense;
  return `${sense} ${formatQuantity({ value: Math.abs(load.force), dimension: FORCE }, units)}`;
}

function millimetres(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}

export function amountText({ kind, amount }: Effect, units: UnitPreferences): string {
  return formatQuantity({ value: amount, dimension: kind === 'force' ? FORCE : MOMENT }, units);
}
