/** The bending plan below the figures, folded away until it is wanted; only then is it asked for. */
import type { PreviewPlan } from '#preview/view';
import { parseDrawing } from './drawing-frame';
import { createFold } from './fold';
import { create } from './page';

export interface BendingPlanView {
  readonly element: HTMLDetailsElement;
  /** Undefined where it was not asked for or there is none. */
  show(plan: PreviewPlan | undefined): void;
}

export function createBendingPlan(isOpen: boolean, onToggle: (open: boolean) => void): BendingPlanView {
  const content = create('div', { class: 'plan' });
  const element = createFold('Bending plan', isOpen, onToggle, content);
  let shown: string | undefined;
  return {
    element,
    show(plan) {
      // Left alone while it stays the same, so that what is scrolled or read aloud stays where it is.
      const next = JSON.stringify(plan);
      if (next === shown) return;
      shown = next;
      content.replaceChildren(...(plan === undefined ? [] : renderPlan(plan)));
    },
  };
}

function renderPlan({ notes, headings, rows, order, warnings, caution, steps }: PreviewPlan): HTMLElement[] {
  const table = create(
    'table',
    {},
    create('caption', {}, 'Bends along the wire: lengths in mm, angles in deg'),
    create('thead', {}, create('tr', {}, ...headings.map((heading) => create('th', { scope: 'col' }, heading)))),
    create('tbody', {}, ...rows.map(renderRow)),
  );
  return [
    ...notes.map((note) => create('p', {}, note)),
    // Wider than a narrow pane: scrolled with the keyboard too.
    create('div', { class: 'scrolled', role: 'region', 'aria-label': 'Bends along the wire', tabindex: 0 }, table),
    ...(warnings.length === 0 ? [] : list('ul', 'To look out for', warnings)),
    ...list('ol', 'Order of work (common practice)', order),
    create('div', { class: 'steps' }, ...steps.map(renderStep)),
    create('p', { class: 'caution' }, caution),
  ];
}

function renderRow([bend, ...cells]: readonly string[]): HTMLTableRowElement {
  return create('tr', {}, create('th', { scope: 'row' }, bend), ...cells.map((cell) => create('td', {}, cell)));
}

function renderStep({ label, svg }: PreviewPlan['steps'][number]): HTMLElement {
  return create('figure', {}, parseDrawing(svg), create('figcaption', {}, label));
}

function list(kind: 'ul' | 'ol', heading: string, items: readonly string[]): HTMLElement[] {
  return [create('h2', {}, heading), create(kind, {}, ...items.map((item) => create('li', {}, item)))];
}
