/** The numbers beside the drawing, one group of rows per heading. */
import type { PreviewReadout } from '#preview/view';
import { create } from './page';

export function renderReadouts(readouts: readonly PreviewReadout[]): HTMLElement[] {
  const groups = new Map<string, PreviewReadout[]>();
  for (const readout of readouts) groups.set(readout.group, [...(groups.get(readout.group) ?? []), readout]);
  return [...groups].map(([group, rows]) =>
    create('table', {}, create('caption', {}, group), create('tbody', {}, ...rows.map(renderRow))),
  );
}

function renderRow({ label, value, words }: PreviewReadout): HTMLTableRowElement {
  return create(
    'tr',
    {},
    create('th', { scope: 'row' }, label),
    create('td', { class: 'value' }, value),
    create('td', { class: 'words' }, words ?? ''),
  );
}
