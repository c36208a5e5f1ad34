/** A template as an SVG file whose sizes are in millimetres. */
import { coordinate, element, escapeText } from '#drawing/svg';
import type { Template } from './template';

export function templateSvg({ width, height, lines, words }: Template, title: string): string {
  const svg = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${coordinate(width)}mm`,
      height: `${coordinate(height)}mm`,
      viewBox: `0 0 ${coordinate(width)} ${coordinate(height)}`,
      'font-family': 'DejaVu Sans, Arial, sans-serif',
    },
    element('title', {}, escapeText(title)),
    element('rect', { width, height, fill: '#ffffff' }),
    ...lines.map(({ points, width: stroke, kind }) =>
      element('path', {
        class: kind,
        d: points.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${fine(x)} ${fine(y)}`).join(''),
        fill: 'none',
        stroke: kind === 'wire' ? '#3d4a56' : '#57606a',
        'stroke-width': stroke,
        'stroke-linejoin': 'round',
      }),
    ),
    ...words.map(({ at: [x, y], text, size, anchor }) =>
      element(
        'text',
        { x: fine(x), y: fine(y), 'font-size': size, 'text-anchor': anchor, fill: '#24292f' },
        escapeText(text),
      ),
    ),
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${svg}\n`;
}

/** To a micrometre. */
function fine(value: number): string {
  return String(Number(value.toFixed(3)) + 0);
}
