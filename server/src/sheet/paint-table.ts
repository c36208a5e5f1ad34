/** Puts a table on pages of a PDF, with a rule below each row. */
import { BOLD, INK, plain, QUIET, REGULAR } from './type';

export interface TableOptions {
  /** Stand again on a page that the table goes on to; without them the first column is what the others are of. */
  readonly headings?: readonly string[];
  /** Of the columns, as parts of the page's; equal where absent. */
  readonly widths?: readonly number[];
  /** Rows that are to catch the eye. */
  readonly bold?: (row: number) => boolean;
}

/** @param place  in points */
export function paintTable(
  document: PDFKit.PDFDocument,
  { left, width, bottom }: { readonly left: number; readonly width: number; readonly bottom: number },
  rows: readonly (readonly string[])[],
  { headings, widths, bold }: TableOptions = {},
): void {
  const count = (headings ?? rows[0])?.length ?? 0;
  const total = widths?.reduce((sum, one) => sum + one, 0) ?? count;
  const columns = Array.from({ length: count }, (_, k) => ((widths?.[k] ?? 1) / total) * width);
  const size = count > MANY ? 6.6 : 8.2;

  const heightOf = (cells: readonly string[], font: string): number => {
    document.font(font).fontSize(size);
    const heights = cells.map((cell, k) => document.heightOfString(plain(cell) || ' ', { width: columns[k] - GAP }));
    return Math.max(...heights) + GAP;
  };
  const paintRow = (cells: readonly string[], font: string, colourOf: (column: number) => string): void => {
    const top = document.y;
    const height = heightOf(cells, font);
    let x = left;
    for (const [k, cell] of cells.entries()) {
      document.fillColor(colourOf(k)).text(plain(cell), x, top + GAP / 2, { width: columns[k] - GAP });
      x += columns[k];
    }
    document.y = top + height;
    document
      .lineWidth(0.4)
      .strokeColor(RULE)
      .moveTo(left, document.y)
      .lineTo(left + width, document.y)
      .stroke();
  };
  const paintHeadings = (): void => {
    if (headings) paintRow(headings, BOLD, () => QUIET);
  };

  const beginning = rows.slice(0, TOGETHER).map((row) => heightOf(row, REGULAR));
  if (headings) beginning.push(heightOf(headings, BOLD));
  if (document.y + beginning.reduce((sum, height) => sum + height, 0) > bottom) document.addPage();
  paintHeadings();
  for (const [k, row] of rows.entries()) {
    const font = bold?.(k) ? BOLD : REGULAR;
    if (document.y + heightOf(row, font) > bottom) {
      document.addPage();
      paintHeadings();
    }
    paintRow(row, font, (column) => (column === 0 && !headings ? QUIET : INK));
  }
  document.y += GAP;
}

/** Columns from which on the letters are smaller. */
const MANY = 8;
/** Rows that stay on a page with the headings. */
const TOGETHER = 3;
/** Between cells, in points. */
const GAP = 4;
const RULE = '#d0d7de';
