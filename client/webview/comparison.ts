/** Which other appliances of the file are drawn with the one that is shown, how, and their headline figures. */
import type { PreviewComparison } from '#preview/view';
import type { PreviewView } from '../src/preview-messages';
import { createFold } from './fold';
import { create } from './page';

type Choice = Pick<PreviewView, 'others' | 'layout'>;

export interface Comparison {
  /** Folds away; hidden where the file has one appliance only. */
  readonly chooser: HTMLElement;
  /** Hidden where none is chosen. */
  readonly figures: HTMLElement;
  /** @param others  names of the file's other appliances */
  show(others: readonly string[], chosen: Choice, figures: PreviewComparison | undefined): void;
}

/** So that their lines can be told apart, and the drawing follows the hand. */
const MOST = 6;

const layouts = [
  { layout: 'overlay', label: 'One over the other', description: 'From the middle of their first seat' },
  { layout: 'beside', label: 'Side by side', description: 'To one scale; in a narrow pane one below the other' },
] as const;

export function createComparison(
  isOpen: boolean,
  onToggle: (open: boolean) => void,
  choose: (choice: Choice) => void,
): Comparison {
  let boxes: HTMLInputElement[] = [];
  const names = create('div', { class: 'switches names', role: 'group', 'aria-label': 'Drawn with it' });
  const radios = layouts.map(({ layout, label, description }) => {
    const radio = create('input', { type: 'radio', name: 'layout', value: layout });
    radio.addEventListener('change', () => choose({ layout }));
    return { layout, radio, element: create('label', { title: description }, radio, label) };
  });
  const layout = create(
    'div',
    { class: 'switches', role: 'radiogroup', 'aria-label': 'How they are drawn' },
    ...radios.map((one) => one.element),
  );
  const chooser = createFold('Compare', isOpen, onToggle, names, layout);
  chooser.classList.add('compare');
  const summary = chooser.querySelector('summary');
  const figures = create('div', {
    class: 'comparison',
    role: 'region',
    'aria-label': 'Headline figures of those that are compared',
    tabindex: 0,
    hidden: true,
  });

  const createBox = (name: string): HTMLElement => {
    const box = create('input', { type: 'checkbox', value: name });
    box.addEventListener('change', () => {
      choose({ others: boxes.filter(({ checked }) => checked).map(({ value }) => value) });
    });
    boxes.push(box);
    return create('label', {}, box, name);
  };

  return {
    chooser,
    figures,
    show(others, chosen, table) {
      chooser.hidden = others.length === 0;
      if (others.join('\n') !== boxes.map(({ value }) => value).join('\n')) {
        boxes = [];
        names.replaceChildren(...others.map(createBox));
      }
      const among = others.filter((name) => chosen.others?.includes(name));
      for (const box of boxes) {
        box.checked = among.includes(box.value);
        box.disabled = !box.checked && among.length >= MOST;
      }
      for (const one of radios) one.radio.checked = one.layout === (chosen.layout ?? 'overlay');
      layout.hidden = among.length === 0;
      if (summary) summary.textContent = among.length === 0 ? 'Compare' : `Compare with ${among.join(', ')}`;
      figures.hidden = table === undefined;
      figures.replaceChildren(...(table ? [renderTable(table)] : []));
    },
  };
}

function renderTable({ headings, rows }: PreviewComparison): HTMLTableElement {
  return create(
    'table',
    {},
    create(
      'thead',
      {},
      create('tr', {}, create('td'), ...headings.map((heading) => create('th', { scope: 'col' }, heading))),
    ),
    create(
      'tbody',
      {},
      ...rows.map(({ label, cells }) =>
        create('tr', {}, create('th', { scope: 'row' }, label), ...cells.map((cell) => create('td', {}, cell))),
      ),
    ),
  );
}
