/** A closer look at the drawing: wheel with Ctrl, pinch and drag, or buttons for the keyboard; kept while the drawing changes. */
import { select } from 'd3-selection';
import { type D3ZoomEvent, zoom, zoomIdentity } from 'd3-zoom';
import { create, icon } from './page';

/** Magnification, and how far the drawing is moved, in parts of the canvas's width. */
export interface Zoomed {
  readonly scale: number;
  readonly x: number;
  readonly y: number;
}

export interface ZoomControl {
  readonly element: HTMLElement;
  /** Takes the drawing that the canvas shows now. */
  apply(): void;
}

const paths = {
  in: 'M7 3h2v4h4v2H9v4H7V9H3V7h4z',
  out: 'M3 7h10v2H3z',
  whole: 'M2 2h4v1.5H3.5V6H2zM10 2h4v4h-1.5V3.5H10zM2 10h1.5v2.5H6V14H2zM12.5 10H14v4h-4v-1.5h2.5z',
};
const closest = 8;

/** @param keep  called with what is shown now, to be given again as `first` */
export function createZoom(
  canvas: HTMLElement,
  first: Zoomed | undefined,
  keep: (zoomed: Zoomed) => void,
): ZoomControl {
  let shown: Zoomed = first ?? { scale: 1, x: 0, y: 0 };
  const behaviour = zoom<HTMLElement, unknown>()
    .scaleExtent([1, closest])
    // The plain wheel scrolls the page, and what is not enlarged is not dragged.
    .filter((event: Event) => (event instanceof WheelEvent ? event.ctrlKey || event.metaKey : shown.scale > 1))
    .on('zoom', ({ transform: { k, x, y } }: D3ZoomEvent<HTMLElement, unknown>) => {
      const width = canvas.clientWidth || 1;
      shown = { scale: k, x: x / width, y: y / width };
      show();
      keep(shown);
    });
  const surface = select(canvas);
  surface.call(behaviour).on('dblclick.zoom', null);
  const button = (path: string, name: string, act: () => void): HTMLButtonElement => {
    const made = create('button', { type: 'button', title: name, 'aria-label': name }, icon(path));
    made.addEventListener('click', act);
    return made;
  };
  const out = button(paths.out, 'Smaller', () => surface.call(behaviour.scaleBy, 1 / 1.5));
  const whole = button(paths.whole, 'Show the whole drawing', () => surface.call(behaviour.transform, zoomIdentity));
  const element = create(
    'div',
    { class: 'zoom', role: 'group', 'aria-label': 'Size of the drawing' },
    button(paths.in, 'Larger', () => surface.call(behaviour.scaleBy, 1.5)),
    out,
    whole,
  );

  const show = (): void => {
    const svg = canvas.querySelector('svg');
    const box = svg?.dataset.whole ?? svg?.getAttribute('viewBox');
    if (!svg || !box) return;
    svg.dataset.whole = box;
    const [, , width, height] = box.split(' ').map(Number);
    const { scale, x, y } = shown;
    svg.setAttribute('viewBox', [(-x * width) / scale, (-y * width) / scale, width / scale, height / scale].join(' '));
    out.disabled = whole.disabled = scale <= 1;
    canvas.classList.toggle('enlarged', scale > 1);
  };

  // Told, not asked for with every drawing, which would lay the page out once more each time.
  new ResizeObserver(() => {
    const { clientWidth, clientHeight } = canvas;
    const extent: [[number, number], [number, number]] = [
      [0, 0],
      [clientWidth, clientHeight],
    ];
    behaviour.translateExtent(extent).extent(extent);
    const { scale, x, y } = shown;
    // What the library remembers follows the canvas's present size.
    Object.assign(canvas, { __zoom: zoomIdentity.translate(x * clientWidth, y * clientWidth).scale(scale) });
  }).observe(canvas);

  return { element, apply: show };
}
