/** What an appliance can be written to. */

/** Files for other programs: the drawing, one shape at actual size, centre lines, tables of points and of curves. */
export const drawFormats = ['svg', 'template', 'template-pdf', 'dxf', 'shapes', 'curves', 'json'] as const;
export type DrawFormat = (typeof drawFormats)[number];

/** And pages to print. */
export type ExportFormat = DrawFormat | 'sheet' | 'card';

export const papers = ['A4', 'Letter'] as const;
export type Paper = (typeof papers)[number];

/** What the name of a file has after the appliance's own. */
export const fileEnds: Readonly<Record<ExportFormat, string>> = {
  svg: '.svg',
  template: '-template.svg',
  'template-pdf': '-template.pdf',
  dxf: '.dxf',
  shapes: '-shapes.csv',
  curves: '-curves.csv',
  json: '.json',
  sheet: '.pdf',
  card: '-card.pdf',
};
