/** The drawing as the server sends it, and what of it is shown. */
import type { DrawnPart, PreviewHandle, PreviewParams } from '#preview/view';
import { createGrips } from './grips';
import { create, showText } from './page';
import type { Trial } from './trial';
import { createZoom, type Zoomed } from './zoom';

type Show = NonNullable<PreviewParams['show']>;

export interface DrawingFrame {
  readonly element: HTMLElement;
  /** That there is for the drawing, in pixels. */
  readonly width: number;
  show(drawing: string | undefined, chosen: Show, handles: readonly PreviewHandle[]): void;
  /** Marks the steps that are written at a place of the text. */
  mark(offset: number): void;
}

const parts: readonly { readonly part: DrawnPart; readonly label: string; readonly description: string }[] = [
  { part: 'nominal', label: 'Nominal', description: 'All shape bends, no preactivation: how it is meant to lie' },
  { part: 'passive', label: 'Passive', description: 'With preactivation: what leaves the plier' },
  { part: 'neutral', label: 'Neutral', description: 'Held by its attachments, no force along the activation' },
  { part: 'engaged', label: 'Engaged', description: 'Held and activated' },
  { part: 'auxiliary', label: 'Auxiliary', description: 'Further wires on the same teeth, as engaged' },
  { part: 'forces', label: 'Forces', description: 'Forces and moments of the wires on the teeth' },
  {
    part: 'stress',
    label: 'Stress',
    description: 'How much of its elastic range the engaged wire uses along its length, and where it yields first',
  },
  { part: 'dimensions', label: 'Dimensions', description: 'Distances, leg gaps, angles and radii' },
  {
    part: 'handles',
    label: 'Handles',
    description: 'Where a parameter sets a length, a radius, an angle or an arch: drag it there',
  },
  {
    part: 'second',
    label: 'Second view',
    description: 'From the biting side, of a whole arch from the front: what leaves the plane of the main view',
  },
];

const widest = 1080;
/** Widths are rounded, so that dragging the panel's edge does not ask at every pixel. */
const widthStep = 40;

const noHandles = 'No parameter sets a length, a radius, an angle or an arch of this wire that is to be seen here.';

/**
 * @param trial  takes what handles are moved to
 * @param choose  called when a part is switched on or off
 * @param pick  called with the place in the text of a step that is clicked on
 * @param zooming  how close the drawing is shown at first, and what is called when that changes
 * @param resized  called when the frame's width has changed so much that another canvas suits it
 */
export function createDrawingFrame(
  trial: Trial,
  choose: (part: DrawnPart, on: boolean) => void,
  pick: (start: number, end: number) => void,
  zooming: { readonly first: Zoomed | undefined; readonly keep: (zoomed: Zoomed) => void },
  resized: () => void,
): DrawingFrame {
  const canvas = create('div', {
    class: 'canvas',
    role: 'group',
    tabindex: 0,
    'aria-label': 'Wire: arrow keys go along it, Enter finds the line in the text',
  });
  const told = create('p', { class: 'unseen', role: 'status' });
  const grips = createGrips(canvas, trial);
  const zoomed = createZoom(canvas, zooming.first, (next) => {
    grips.place();
    zooming.keep(next);
  });
  const hint = create('p', { class: 'hint', hidden: true });
  const switches = parts.map(({ part, label, description }) => {
    const box = create('input', { type: 'checkbox' });
    box.addEventListener('change', () => choose(part, box.checked));
    return { part, box, element: create('label', { title: description }, box, label) };
  });
  const element = create(
    'section',
    { class: 'drawing', 'aria-label': 'Drawing', hidden: true },
    create('div', { class: 'stage' }, canvas, grips.element),
    told,
    create(
      'div',
      { class: 'below' },
      create(
        'div',
        { class: 'switches', role: 'group', 'aria-label': 'Shown in the drawing' },
        ...switches.map((one) => one.element),
      ),
      zoomed.element,
    ),
    hint,
  );
  canvas.addEventListener('click', ({ target }) => {
    const step = target instanceof SVGElement ? target.closest<SVGElement>('.step') : null;
    if (step) pick(Number(step.dataset.start), Number(step.dataset.end));
  });
  canvas.addEventListener('keydown', (event) => {
    const stretches = stretchesOf(canvas);
    const at = stretches.findIndex((one) => holds(one, marked));
    if (event.key === 'Enter' && at >= 0) {
      pick(Number(stretches[at].dataset.start), Number(stretches[at].dataset.end));
    } else if (event.key === 'ArrowRight' || event.key === 'ArrowLeft') {
      const next = stretches[Math.min(Math.max(at + (event.key === 'ArrowRight' ? 1 : -1), 0), stretches.length - 1)];
      if (!next) return;
      marked = Number(next.dataset.start);
      showMarked();
      told.textContent = next.querySelector('title')?.textContent ?? '';
    } else return;
    event.preventDefault();
  });
  let marked: number | undefined;
  const showMarked = (): void => {
    for (const step of canvas.querySelectorAll<SVGElement>('.step')) {
      step.classList.toggle('chosen', holds(step, marked));
    }
  };
  let width = widest;
  new ResizeObserver(([{ contentRect }]) => {
    const rounded = Math.round(Math.min(contentRect.width, widest) / widthStep) * widthStep;
    if (contentRect.width === 0 || rounded === width) return;
    width = rounded;
    resized();
  }).observe(document.body);

  return {
    element,
    get width() {
      return width;
    },
    mark(offset) {
      marked = offset;
      showMarked();
    },
    show(drawing, chosen, handles) {
      element.hidden = drawing === undefined;
      if (drawing === undefined) return;
      canvas.replaceChildren(parseDrawing(drawing));
      zoomed.apply();
      grips.keepStill();
      grips.show(handles);
      showText(hint, chosen.handles && canvas.querySelector('.handle') === null ? noHandles : undefined);
      showMarked();
      for (const { part, box, element } of switches) {
        const drawn = canvas.querySelector(selectors[part]) !== null;
        box.checked = chosen[part] ?? drawn;
        // Only appliances of several wires have it.
        if (part === 'auxiliary') element.hidden = !drawn && chosen[part] !== false;
        // Only what leaves the main view's plane.
        if (part === 'second') element.hidden = !drawn && canvas.querySelector('.unseen') === null;
      }
    },
  };
}

function holds({ dataset: { start, end } }: SVGElement, offset: number | undefined): boolean {
  return offset !== undefined && offset >= Number(start) && offset <= Number(end);
}

/** Of the main view, along the wire, one for each item of the path. */
function stretchesOf(canvas: HTMLElement): SVGElement[] {
  const steps = [...(canvas.querySelector('.view')?.querySelectorAll<SVGElement>('.step') ?? [])];
  return steps.filter(({ dataset }, k) => dataset.start !== steps[k - 1]?.dataset.start);
}

/** By the classes of the drawing. */
const selectors: Record<DrawnPart, string> = {
  nominal: '.wire.nominal',
  passive: '.wire.passive',
  neutral: '.wire.neutral',
  engaged: '.wire.engaged',
  auxiliary: '.wire.auxiliary',
  forces: '.force, .moment',
  stress: '.stress',
  dimensions: '.dimensions',
  handles: '.handles',
  second: '.view + .divider',
};

/**
 * Read as XML, never as HTML. Scripts and handlers in it would not run: the page's policy allows only its own script.
 */
export function parseDrawing(drawing: string): Element {
  const svg = new DOMParser().parseFromString(drawing, 'image/svg+xml').documentElement;
  if (svg.localName !== 'svg') throw new Error('The drawing is not an <svg> element.');
  return document.adoptNode(svg);
}
