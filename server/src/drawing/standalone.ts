import { drawingCss } from './drawing.css';
import { escapeText } from './svg';

/** A drawing as a file of its own: it carries its colours, since no page around it does. */
export function standaloneDrawing(svg: string, theme: 'light' | 'dark' = 'light'): string {
  const end = svg.indexOf('>') + 1;
  const opening = svg.slice(0, end).replace('class="springwright-drawing', `class="springwright-drawing ${theme}`);
  const style = `<style>${escapeText(drawingCss).replaceAll('&quot;', '"')}</style>`;
  return `<?xml version="1.0" encoding="UTF-8"?>\n${opening}${style}${svg.slice(end)}\n`;
}
