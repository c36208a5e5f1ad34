/** Charts over the activation, folded away until they are wanted; only then are they asked for. */
import type { PreviewContent } from '#preview/view';
import { parseDrawing } from './drawing-frame';
import { createFold } from './fold';
import { create } from './page';

export interface ChartsView {
  readonly element: HTMLDetailsElement;
  show(charts: PreviewContent['charts']): void;
}

/**
 * @param pick  called with mm from neutral where a chart is clicked on
 */
export function createCharts(
  isOpen: boolean,
  onToggle: (open: boolean) => void,
  pick: (activation: number) => void,
): ChartsView {
  const content = create('div', { class: 'charts' });
  const element = createFold('Charts', isOpen, onToggle, content);
  content.addEventListener('click', ({ target, clientX }) => {
    const svg = target instanceof Element ? target.closest('svg') : null;
    const activation = svg && activationAt(svg, clientX);
    if (activation !== null) pick(activation);
  });
  return {
    element,
    show(charts) {
      content.replaceChildren(...charts.map(({ svg }) => parseDrawing(svg)));
    },
  };
}

function activationAt(svg: SVGSVGElement, clientX: number): number | null {
  const [left, right] = (svg.dataset.sides ?? '').split(' ').map(Number);
  const [from, to] = (svg.dataset.activations ?? '').split(' ').map(Number);
  const { left: start, width } = svg.getBoundingClientRect();
  const place = ((clientX - start) / width) * svg.viewBox.baseVal.width;
  if (!(right > left) || place < left - EDGE || place > right + EDGE) return null;
  const part = Math.min(Math.max((place - left) / (right - left), 0), 1);
  return Math.round((from + part * (to - from)) * 100) / 100;
}

/** Canvas units beside the frame that still count as its edge. */
const EDGE = 8;
