/** The preview's page: asks the engine for what there is to see, shows it, and keeps what the user chose. */
import './preview.css';
import { drawingCss } from '#drawing/drawing.css';
import type { PreviewContent, PreviewParams } from '#preview/view';
import type { PreviewState, PreviewView } from '../src/preview-messages';
import { createActivationControl } from './activation-control';
import { createAsker } from './asker';
import { createBendingPlan } from './bending-plan';
import { createCharts } from './charts';
import { createComparison } from './comparison';
import { createDrawingFrame } from './drawing-frame';
import { createFold } from './fold';
import { create, showText } from './page';
import { createParameterSliders } from './parameter-sliders';
import type { MessageToPage, PreviewHost } from './preview-host';
import { renderReadouts } from './readout-table';
import { createTrial } from './trial';
import { createVisits } from './visits';

/** ms */
const REST = 180;

export function startPreview(host: PreviewHost): void {
  /** The activation is being moved, and what it comes to is not solved before it rests. */
  let moving = false;
  let resting: number | undefined;

  // A constructed style sheet is no inline style: the page's policy lets it pass.
  const drawingStyle = new CSSStyleSheet();
  drawingStyle.replaceSync(drawingCss);
  document.adoptedStyleSheets.push(drawingStyle);

  const title = create('h1');
  const file = create('span', { class: 'file' });
  const chooser = create('select', { id: 'appliance', 'aria-label': 'Appliance', hidden: true });
  const comparison = createComparison(...unfolding('compare'), (choice) => choose(choice));
  const notice = create('p', { class: 'notice', role: 'status', hidden: true });
  const activation = createActivationControl((value) => {
    moving = true;
    clearTimeout(resting);
    resting = setTimeout(() => {
      moving = false;
      ask();
    }, REST);
    choose({ activation: value });
  });
  const trial = createTrial(
    () => ask(),
    (values) => host.post({ type: 'write', params: { uri: state.uri, ...viewOf(state.uri), values } }),
  );
  const drawing = createDrawingFrame(
    trial,
    (part, on) => {
      keep({ ...state, show: { ...state.show, [part]: on } });
      ask();
    },
    (start, end) => host.post({ type: 'reveal', uri: state.uri, start, end }),
    { first: host.getState()?.zoom, keep: (zoom) => keep({ ...state, zoom }) },
    () => ask(),
  );
  const readouts = create('div', { class: 'readouts' });
  const bands = create('input', { type: 'checkbox', id: 'bands' });
  const bandSwitch = create(
    'div',
    { class: 'switches' },
    create(
      'label',
      { title: 'Beside each figure: where about 19 of 20 wires lie, by alloy, section and hand bending' },
      bands,
      'Bands',
    ),
  );
  const figures = createFold('Figures', ...unfolding('figures'), bandSwitch, readouts);
  const parameters = createParameterSliders(...unfolding('parameters', true), trial);
  const charts = createCharts(...unfolding('charts'), (value) => choose({ activation: value }));
  const visits = createVisits(...unfolding('visits'));
  const plan = createBendingPlan(...unfolding('plan'));
  const caution = create(
    'p',
    { class: 'caution' },
    'Computed estimates for design, research and teaching, not a prescription: a licensed practitioner decides, and local ' +
      'rules and the data of the wire in hand stand above these figures.',
  );
  const main = document.getElementById('preview')!;
  main.append(
    create('header', {}, title, chooser, file),
    comparison.chooser,
    notice,
    activation.element,
    drawing.element,
    comparison.figures,
    parameters.element,
    charts.element,
    figures,
    visits.element,
    plan.element,
    caution,
  );

  let state: PreviewState = host.getState() ?? { uri: '', views: {}, show: {} };
  const asker = createAsker<string>((uri) => host.post({ type: 'ask', params: paramsOf(uri) }));

  host.listen(receive);
  bands.checked = state.bands ?? false;
  bands.addEventListener('change', () => {
    keep({ ...state, bands: bands.checked });
    ask();
  });
  chooser.addEventListener('change', () => {
    trial.leave();
    choose({ appliance: chooser.value, activation: undefined });
  });
  host.post({ type: 'ready' });

  function receive(message: MessageToPage): void {
    switch (message.type) {
      case 'document':
        if (message.uri !== state.uri) trial.leave();
        keep({ ...state, uri: message.uri });
        file.textContent = message.name;
        if (message.appliance !== undefined && message.appliance !== viewOf(message.uri).appliance) {
          choose({ appliance: message.appliance, activation: undefined });
        } else ask();
        return;
      case 'changed':
        if (message.uri !== state.uri) return;
        // The text is what counts again, be it the values tried out or something else.
        trial.settle();
        ask();
        return;
      case 'failed':
        showText(notice, message.failure);
        return;
      case 'answer':
        asker.answered();
        if (message.uri !== state.uri) return;
        if (message.content) {
          show(message.content);
          askBands();
        } else showText(notice, message.failure ?? 'This file is not open: open it in an editor to see it here.');
        return;
      case 'cursor':
        if (message.uri === state.uri) drawing.mark(message.offset);
        return;
      case 'bands':
        // Only what is on screen still: anything asked since has its own bands to come.
        if (message.uri === state.uri && state.bands && asker.idle) showReadouts(message.content);
    }
  }

  function show(content: PreviewContent): void {
    const { appliance, appliances } = content;
    title.textContent = appliance ?? '';
    showAppliances(appliances, appliance);
    const others = appliances.filter((name) => name !== appliance);
    comparison.show(others, viewOf(state.uri), content.comparison);
    // What the user is dragging to is ahead of the answers; the last one brings both together.
    if (asker.idle || !content.activation)
      activation.show(content.activation, viewOf(state.uri).activation !== undefined);
    else activation.showRange(content.activation);
    main.classList.toggle('stale', content.stale);
    main.classList.toggle('empty', content.drawing === undefined);
    showText(notice, content.notice ?? (content.stale ? 'Drawn before the last change, which has errors.' : undefined));
    // A value that leaves no wire to draw takes the last good one from nobody's hand.
    if (!(trial.moving && content.stale)) drawing.show(content.drawing, state.show, content.handles);
    showReadouts(content);
    parameters.show(content.parameters);
    charts.element.hidden = content.activation === undefined;
    charts.show(content.charts);
    visits.element.hidden = !content.hasVisits;
    visits.show(content.visits);
    plan.element.hidden = content.readouts.length === 0;
    plan.show(content.plan);
  }

  /** Whether a part is open at first, and what keeps that; what it shows is asked for only while it is open. */
  function unfolding(
    part: 'compare' | 'parameters' | 'figures' | 'charts' | 'visits' | 'plan',
    atFirst = false,
  ): [boolean, (open: boolean) => void] {
    const toggle = (open: boolean): void => {
      keep({ ...state, [part]: open });
      ask();
    };
    return [host.getState()?.[part] ?? atFirst, toggle];
  }

  function showReadouts({ readouts: rows }: PreviewContent): void {
    figures.hidden = rows.length === 0;
    readouts.replaceChildren(...renderReadouts(rows));
  }

  /** Once nothing else is wanted: bands must not hold up what the user is dragging to. */
  function askBands(): void {
    if (state.bands && state.figures && asker.idle) host.post({ type: 'askBands', params: paramsOf(state.uri) });
  }

  function showAppliances(names: readonly string[], shown: string | undefined): void {
    const several = names.length > 1;
    // The page has its heading all the same.
    title.classList.toggle('unseen', several);
    chooser.hidden = !several;
    const listed = [...chooser.options].map((option) => option.value);
    if (names.join('\n') !== listed.join('\n')) {
      chooser.replaceChildren(...names.map((name) => create('option', { value: name }, name)));
    }
    if (shown !== undefined) chooser.value = shown;
  }

  function choose(change: PreviewView): void {
    const { uri, views } = state;
    keep({ ...state, views: { ...views, [uri]: { ...viewOf(uri), ...change } } });
    ask();
  }

  /** For the document shown, once there is one. */
  function ask(): void {
    if (state.uri !== '') asker.ask(state.uri);
  }

  function paramsOf(uri: string): PreviewParams {
    const { show: shown, plan: planned, charts: charted, visits: followed } = state;
    const { width } = drawing;
    return {
      uri,
      ...viewOf(uri),
      moving,
      show: shown,
      plan: planned,
      charts: charted,
      visits: followed,
      values: trial.values,
      width,
    };
  }

  function viewOf(uri: string): PreviewView {
    return state.views[uri] ?? {};
  }

  function keep(next: PreviewState): void {
    state = next;
    host.setState(next);
  }
}
