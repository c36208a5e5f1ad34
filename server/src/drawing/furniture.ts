/** What surrounds the wire: legend, direction labels and scale bar. */

import { textWidth } from './labels';
import { element, escapeText } from './svg';
import type { Projection } from './view';
import { isCentreLine, type Shape, wireClass } from './wire';

/** A text element; `class` picks its weight and colour. */
export function text(
  x: number,
  y: number,
  content: string,
  name: string | undefined = undefined,
  anchor: 'start' | 'middle' | 'end' = 'start',
): string {
  return element(
    'text',
    { class: name, x, y, 'text-anchor': anchor === 'start' ? undefined : anchor },
    escapeText(content),
  );
}

export interface LegendEntry {
  readonly shape: Shape;
  readonly name: string;
  /** Of an appliance laid over. */
  readonly number?: number;
}

/** Entries in as few rows as fit into the width, in order. */
export function legendRows(entries: readonly LegendEntry[], width: number): readonly (readonly LegendEntry[])[] {
  const rows: LegendEntry[][] = [[]];
  for (const entry of entries) {
    const row = rows[rows.length - 1];
    if (row.length > 0 && legendWidth([...row, entry]) > width) rows.push([entry]);
    else row.push(entry);
  }
  return rows;
}

export function legendWidth(entries: readonly LegendEntry[]): number {
  return entries.reduce((sum, { name }) => sum + swatchRoom + textWidth(name), (entries.length - 1) * entryGap);
}

/** Samples of the shown shapes with their names, in one row that ends at `right`. */
export function drawLegend(entries: readonly LegendEntry[], right: number, y: number): string {
  let x = right - legendWidth(entries);
  const parts: string[] = [];
  for (const { shape, name, number } of entries) {
    parts.push(swatch(shape, x, y, number), text(x + swatchRoom, y + 4, name, 'quiet'));
    x += swatchRoom + textWidth(name) + entryGap;
  }
  return element('g', { class: 'legend' }, ...parts);
}

const swatchRoom = 34;
const entryGap = 18;

/** Two short arrows that say which way is which. */
export function drawDirections({ view }: Projection, x: number, y: number): string {
  const arm = 26;
  return element(
    'g',
    { class: 'directions' },
    element('path', { class: 'rule', d: `M${x} ${y - arm}L${x} ${y}L${x + arm} ${y}` }),
    element('path', { class: 'axis-head', d: `M${x - 3.5} ${y - arm}L${x + 3.5} ${y - arm}L${x} ${y - arm - 7}Z` }),
    element('path', { class: 'axis-head', d: `M${x + arm} ${y - 3.5}L${x + arm} ${y + 3.5}L${x + arm + 7} ${y}Z` }),
    text(x + 8, y - arm + 1, view.up.name, 'quiet'),
    text(x + arm + 12, y + 4, view.right.name, 'quiet'),
  );
}

/** A bar of 5 mm, its right end at `right`. */
export function drawScaleBar({ scale }: Projection, right: number, y: number): string {
  const left = right - 5 * scale;
  return element(
    'g',
    { class: 'scale-bar' },
    element('path', {
      class: 'rule',
      d: `M${left} ${y - 4}L${left} ${y + 4}M${left} ${y}L${right} ${y}M${right} ${y - 4}L${right} ${y + 4}`,
    }),
    text((left + right) / 2, y - 8, '5 mm', 'quiet', 'middle'),
  );
}

function swatch(shape: Shape, x: number, y: number, number: number | undefined): string {
  const d = `M${x} ${y}L${x + 26} ${y}`;
  if (isCentreLine(shape)) return element('path', { class: wireClass(shape, number), d, fill: 'none' });
  const core =
    shape === 'neutral' || shape === 'auxiliary' ? element('path', { class: 'core', d, 'stroke-width': 4 }) : '';
  return element('g', { class: `wire ${shape}` }, element('path', { class: 'body', d, 'stroke-width': 6.4 }), core);
}
