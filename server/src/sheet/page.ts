/** Pages of a sheet: headings, paragraphs, tables and drawings at actual size, in the type that every PDF reader has. */
import { toBytes } from 'pdfkit/output';
import Helvetica from 'pdfkit/standard-fonts/Helvetica';
import HelveticaBold from 'pdfkit/standard-fonts/HelveticaBold';
import type { Paper } from '#export/formats';
import type { Template } from '#export/template';
// By its path: in Node the package's name stands for a build that looks for its fonts on the disk.
import { PDFDocument, registerStdFonts } from '../../../node_modules/pdfkit/js/pdfkit.browser.mjs';

registerStdFonts(Helvetica, HelveticaBold);

/** Points per millimetre. */
export const MM = 72 / 25.4;

/** mm */
const MARGIN = 15;
const INK = '#24292f';
const QUIET = '#57606a';
const WIRE = '#3d4a56';
const RULE = '#d0d7de';

export interface Page {
  /** Between the margins, mm. */
  readonly width: number;
  title(text: string, below: string): void;
  heading(text: string): void;
  paragraph(text: string, quiet?: boolean): void;
  list(items: readonly string[], numbered?: boolean): void;
  table(headings: readonly string[], rows: readonly (readonly string[])[], widths?: readonly number[]): void;
  /** At actual size; a page of its own where it does not fit into what is left. False where it is wider than the paper. */
  template(template: Template): boolean;
  finish(): Promise<Uint8Array>;
}

/** @param footer  at the foot of every page, with the page's number */
export function createPage(
  paper: Paper,
  info: { readonly title: string; readonly creator: string },
  footer: string,
): Page {
  const document = new PDFDocument({
    size: paper === 'A4' ? 'A4' : 'LETTER',
    margin: MARGIN * MM,
    bufferPages: true,
    // No date: the same file makes the same sheet.
    info: { Title: info.title, Creator: info.creator, CreationDate: new Date(0) },
  });
  const bytes = toBytes(document);
  const left = MARGIN * MM;
  const inner = document.page.width - 2 * left;
  const bottom = (): number => document.page.height - left - 12;
  const room = (height: number): void => {
    if (document.y + height > bottom()) document.addPage();
  };
  const write = (text: string, size: number, font: string, colour: string, gap: number): void => {
    document.font(font).fontSize(size);
    room(document.heightOfString(plain(text), { width: inner }));
    document.fillColor(colour).text(plain(text), left, document.y, { width: inner });
    document.y += gap;
  };

  return {
    width: inner / MM,
    title(text, below) {
      write(text, 16, 'Helvetica-Bold', INK, 2);
      write(below, 8.5, 'Helvetica', QUIET, 6);
    },
    heading(text) {
      room(40);
      document.y += 6;
      write(text, 11, 'Helvetica-Bold', INK, 3);
    },
    paragraph(text, quiet = false) {
      write(text, 8.5, 'Helvetica', quiet ? QUIET : INK, 3);
    },
    list(items, numbered = false) {
      for (const [k, item] of items.entries())
        write(`${numbered ? `${k + 1}.` : '\u2022'} ${item}`, 8.5, 'Helvetica', INK, 1.5);
      document.y += 2;
    },
    table(headings, rows, widths) {
      const total = widths?.reduce((sum, width) => sum + width, 0) ?? headings.length;
      const columns = headings.map((_, k) => ((widths?.[k] ?? 1) / total) * inner);
      const size = headings.length > 8 ? 6.6 : 8.2;
      const line = (cells: readonly string[], font: string, colour: string): void => {
        document.font(font).fontSize(size);
        const height = Math.max(
          ...cells.map((cell, k) => document.heightOfString(plain(cell) || ' ', { width: columns[k] - 4 })),
        );
        room(height + 4);
        const top = document.y;
        let x = left;
        document.fillColor(colour);
        for (const [k, cell] of cells.entries()) {
          document.text(plain(cell), x, top + 2, { width: columns[k] - 4 });
          x += columns[k];
        }
        document.y = top + height + 4;
        document
          .lineWidth(0.4)
          .strokeColor(RULE)
          .moveTo(left, document.y)
          .lineTo(left + inner, document.y)
          .stroke();
      };
      line(headings, 'Helvetica-Bold', QUIET);
      for (const row of rows) line(row, 'Helvetica', INK);
      document.y += 4;
    },
    template({ width, height, lines, words }) {
      if (width * MM > inner + 1) return false;
      room(height * MM);
      const top = document.y;
      const place = ([x, y]: readonly [number, number]): [number, number] => [left + x * MM, top + y * MM];
      for (const { points, width: stroke, kind } of lines) {
        for (const [k, point] of points.entries()) {
          if (k === 0) document.moveTo(...place(point));
          else document.lineTo(...place(point));
        }
        document
          .lineWidth(stroke * MM)
          .lineJoin('round')
          .strokeColor(kind === 'wire' ? WIRE : QUIET)
          .stroke();
      }
      document.font('Helvetica').fillColor(INK);
      for (const { at, text, size, anchor } of words) {
        document.fontSize(size * MM);
        const [x, y] = place(at);
        const shift = anchor === 'start' ? 0 : document.widthOfString(plain(text)) * (anchor === 'end' ? 1 : 0.5);
        document.text(plain(text), x - shift, y - size * MM * 0.78, { lineBreak: false });
      }
      document.x = left;
      document.y = top + height * MM;
      return true;
    },
    async finish() {
      const { start, count } = document.bufferedPageRange();
      for (let k = start; k < start + count; k++) {
        document.switchToPage(k);
        document.page.margins.bottom = 0;
        document.font('Helvetica').fontSize(7).fillColor(QUIET);
        document.text(plain(`${footer}   ${k + 1} / ${count}`), left, document.page.height - left + 4, {
          width: inner,
          lineBreak: false,
        });
      }
      document.end();
      return bytes;
    },
  };
}

/** The standard type has the letters of Western European languages only. */
function plain(text: string): string {
  return text
    .replaceAll('\u2192', '->')
    .replaceAll('\u2264', '<=')
    .replaceAll('\u2265', '>=')
    .replaceAll('\u2212', '-')
    .replace(/[^ -~\u00a0-\u00ff\u2013\u2014\u2018\u2019\u201c\u201d\u2022\u2026]/g, '?');
}
