/** The page of a comparison: both revisions drawn, and tables of what changed. */
import './compare.css';
import { drawingCss } from '#drawing/drawing.css';
import type { CompareContent } from '#lsp/protocol';
import type { CompareState, MessageFromComparePage, MessageToComparePage } from '../src/compare-messages';
import { create, showText } from './page';

declare function acquireVsCodeApi(): {
  postMessage(message: MessageFromComparePage): void;
  getState(): CompareState | undefined;
  setState(state: CompareState): void;
};

type Compared = CompareContent['appliances'][number];
type Change = Compared['changes'][number];

const host = acquireVsCodeApi();
let state: CompareState = host.getState() ?? {};

// A constructed style sheet is no inline style: the page's policy lets it pass.
const drawingStyle = new CSSStyleSheet();
drawingStyle.replaceSync(drawingCss);
document.adoptedStyleSheets.push(drawingStyle);

const title = create('h1');
const layout = create('select', { 'aria-label': 'Drawing' });
layout.append(
  create('option', { value: 'overlay' }, 'before laid over after'),
  create('option', { value: 'beside' }, 'side by side'),
);
layout.value = state.beside ? 'beside' : 'overlay';
const notice = create('p', { class: 'notice', role: 'status', hidden: true });
const body = create('div');
const main = document.querySelector('main')!;
main.append(create('header', {}, title, layout), notice, body);

layout.addEventListener('change', () => {
  keep({ ...state, beside: layout.value === 'beside' });
  main.classList.toggle('beside', state.beside);
});
main.classList.toggle('beside', state.beside === true);
addEventListener('message', ({ data }: MessageEvent<MessageToComparePage>) => show(data));
host.postMessage({ type: 'ready' });

function show({ params, content, failure }: MessageToComparePage): void {
  keep({ ...state, params });
  const { before, after } = params;
  title.textContent = `${before.name} → ${after.name}`;
  showText(notice, failure);
  main.classList.toggle('empty', content === undefined);
  layout.hidden = !content?.appliances.some(({ beside }) => beside);
  // Folds stay as they are while a text is edited.
  const open = new Set([...body.querySelectorAll('details')].map((one) => (one.open ? one.dataset.key : undefined)));
  body.replaceChildren(
    ...(content?.appliances.map((appliance) => applianceSection(appliance, open)) ?? []),
    ...(content?.notes.map((note) => create('p', { class: 'caution' }, note)) ?? []),
  );
}

function applianceSection(compared: Compared, open: ReadonlySet<string | undefined>): HTMLElement {
  const { name, changes, overlay, beside } = compared;
  const groups = [...new Set(changes.map(({ group }) => group))].map((group) => {
    const of = changes.filter((change) => change.group === group);
    const key = `${name}\n${group}`;
    return { key, group, of, folded: of.every(({ stage }) => stage) };
  });
  return create(
    'section',
    {},
    create('h2', {}, name, create('span', { class: 'verdict' }, verdict(compared))),
    drawing('overlay', overlay),
    drawing('beside', beside),
    ...groups.map(({ key, group, of, folded }) =>
      folded
        ? create(
            'details',
            { class: 'fold', 'data-key': key, open: open.has(key) },
            create('summary', {}, `${group}: ${of.length} ${of.length === 1 ? 'figure' : 'figures'}`),
            changeTable(undefined, of),
          )
        : changeTable(group, of),
    ),
  );
}

function verdict({ state: kept, changes }: Compared): string {
  if (kept === 'added') return 'is new';
  if (kept === 'removed') return 'is gone';
  if (changes.length === 0) return 'no number changes';
  const counts = [
    [changes.filter(({ worse }) => worse).length, 'not met any more'],
    [changes.filter(({ better }) => better).length, 'met now'],
  ] as const;
  const words = counts.flatMap(([count, what]) =>
    count === 0 ? [] : `${count} ${count === 1 ? 'requirement' : 'requirements'} ${what}`,
  );
  return words.length === 0 ? 'no requirement changes its verdict' : words.join(', ');
}

/** The server draws; its text is markup that it made itself. */
function drawing(kind: 'overlay' | 'beside', svg: string | undefined): HTMLElement {
  const canvas = create('div', { class: `canvas ${kind}`, hidden: svg === undefined });
  canvas.innerHTML = svg ?? '';
  return canvas;
}

function changeTable(caption: string | undefined, changes: readonly Change[]): HTMLTableElement {
  const head = ['', 'Before', 'After', ''].map((name) => create('th', { scope: 'col' }, name));
  return create(
    'table',
    { class: 'changes' },
    ...(caption === undefined ? [] : [create('caption', {}, caption)]),
    create('thead', {}, create('tr', {}, ...head)),
    create(
      'tbody',
      {},
      ...changes.map(({ name, before, after, worse, better }) =>
        create(
          'tr',
          { class: worse ? 'worse' : undefined },
          create('th', { scope: 'row' }, name),
          create('td', {}, before ?? '–'),
          create('td', {}, after ?? '–'),
          create('td', { class: 'sense' }, worse ? '✗ not met any more' : better ? '✓ met now' : ''),
        ),
      ),
    ),
  );
}

function keep(next: CompareState): void {
  state = next;
  host.setState(next);
}
