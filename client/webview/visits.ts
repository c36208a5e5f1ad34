/** The visits below the drawing, folded away until they are wanted; only then are they asked for. */
import type { PreviewVisits } from '#preview/view';
import { parseDrawing } from './drawing-frame';
import { createFold } from './fold';
import { create } from './page';

export interface VisitsView {
  readonly element: HTMLDetailsElement;
  /** Undefined where they were not asked for or cannot be followed. */
  show(visits: PreviewVisits | undefined): void;
}

export function createVisits(isOpen: boolean, onToggle: (open: boolean) => void): VisitsView {
  const content = create('div', { class: 'plan visits' });
  const element = createFold('Visits', isOpen, onToggle, content);
  let shown: string | undefined;
  return {
    element,
    show(visits) {
      // Left alone while it stays the same, so that what is scrolled or read aloud stays where it is.
      const next = JSON.stringify(visits);
      if (next === shown) return;
      shown = next;
      content.replaceChildren(...(visits === undefined ? [] : render(visits)));
    },
  };
}

function render({ summary, visits, courses, charts, caution }: PreviewVisits): HTMLElement[] {
  return [
    create('p', {}, summary),
    create('div', { class: 'charts' }, ...charts.map(({ svg }) => parseDrawing(svg))),
    scrolled('From visit to visit', visits),
    scrolled('How far it comes, by the rate of movement', courses),
    create('p', { class: 'caution' }, caution),
  ];
}

/** Wider than a narrow pane: scrolled with the keyboard too. */
function scrolled(name: string, [headings, ...rows]: PreviewVisits['visits']): HTMLElement {
  const table = create(
    'table',
    {},
    create('caption', {}, name),
    create('thead', {}, create('tr', {}, ...headings.map((heading) => create('th', { scope: 'col' }, heading)))),
    create(
      'tbody',
      {},
      ...rows.map(([first, ...cells]) =>
        create('tr', {}, create('th', { scope: 'row' }, first), ...cells.map((cell) => create('td', {}, cell))),
      ),
    ),
  );
  return create('div', { class: 'scrolled', role: 'region', 'aria-label': name, tabindex: 0 }, table);
}
