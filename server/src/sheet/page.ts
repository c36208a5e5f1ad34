/** Pages of a sheet: headings, paragraphs, tables, drawings, and templates at actual size. */
import type { Paper } from '#export/formats';
import type { Template } from '#export/template';
import { createDocument, type DocumentInfo } from './document';
import { drawingMarks } from './drawing-marks';
import { paintMarks } from './paint-marks';
import { paintTable, type TableOptions } from './paint-table';
import { paintTemplate } from './paint-template';
import { BOLD, INK, MM, plain, QUIET, REGULAR } from './type';

/** mm */
const MARGIN = 15;
const TEXT_SIZE = 8.5;
/** Of a heading with the gaps around it, in points. */
const HEADING = 24;
/** Of drawings, in points per canvas unit: their letters stay about as large as those of the text. */
const LARGEST = 0.72;
/** By how much a drawing may be made smaller. */
const SMALLER = 0.75;

export interface Page {
  title(text: string, below: string): void;
  heading(text: string): void;
  paragraph(text: string, quiet?: boolean): void;
  list(items: readonly string[], numbered?: boolean): void;
  /** Headings stand again on a page that it goes on to; without headings a list of facts. */
  table(rows: readonly (readonly string[])[], options?: TableOptions): void;
  /** What is left of it below what stands there, mm. */
  room(): number;
  /**
   * A stand-alone drawing with its heading, as wide as the page or as high as given (mm) at most; somewhat smaller where that
   * spares a page.
   */
  drawing(heading: string, svg: string, height: number): void;
  /** With its heading, at actual size. False, and nothing is drawn, where it does not fit on the paper. */
  template(heading: string, template: Template): boolean;
  finish(): Promise<Uint8Array>;
}

/** @param footer  at the foot of every page, with the page's number */
export function createPage(paper: Paper, info: DocumentInfo, footer: string): Page {
  const { document, bytes } = createDocument(paper === 'A4' ? 'A4' : 'LETTER', MARGIN * MM, info);
  const left = MARGIN * MM;
  const inner = document.page.width - 2 * left;
  const bottom = (): number => document.page.height - left - 12;
  const fits = (height: number): boolean => document.y + height <= bottom();
  const room = (height: number): void => {
    if (!fits(height)) document.addPage();
  };
  const write = (text: string, size: number, font: string, colour: string, gap: number, indent = 0): void => {
    const width = inner - indent;
    document.font(font).fontSize(size);
    room(document.heightOfString(plain(text), { width }));
    document.fillColor(colour).text(plain(text), left + indent, document.y, { width });
    document.y += gap;
  };
  /** With the beginning of what it is of, in points. */
  const heading = (text: string, beginning = 72): void => {
    room(HEADING + beginning);
    document.y += 6;
    write(text, 11, BOLD, INK, 3);
  };

  return {
    title(text, below) {
      write(text, 16, BOLD, INK, 2);
      write(below, TEXT_SIZE, REGULAR, QUIET, 6);
    },
    heading,
    paragraph(text, quiet = false) {
      write(text, TEXT_SIZE, REGULAR, quiet ? QUIET : INK, 3);
    },
    list(items, numbered = false) {
      const indent = numbered ? 14 : 9;
      for (const [k, item] of items.entries()) {
        document.font(REGULAR).fontSize(TEXT_SIZE);
        room(document.heightOfString(plain(item), { width: inner - indent }));
        const top = document.y;
        document.fillColor(INK).text(numbered ? `${k + 1}.` : '\u2022', left, top, { lineBreak: false });
        document.y = top;
        write(item, TEXT_SIZE, REGULAR, INK, 1.5, indent);
      }
      document.y += 2;
    },
    table: (rows, options) => paintTable(document, { left, width: inner, bottom: bottom() }, rows, options),
    room: () => (bottom() - document.y) / MM,
    drawing(text, svg, height) {
      const drawing = drawingMarks(svg);
      const most = Math.min(inner / drawing.width, (height * MM) / drawing.height, LARGEST);
      const here = (bottom() - document.y - HEADING) / drawing.height;
      const factor = here >= SMALLER * most ? Math.min(here, most) : most;
      heading(text, drawing.height * factor - 1);
      const top = document.y;
      paintMarks(document, drawing, [left + (inner - drawing.width * factor) / 2, top], factor);
      document.x = left;
      document.y = top + drawing.height * factor + 4;
    },
    template(text, template) {
      const height = template.height * MM;
      if (template.width * MM > inner + 1 || height > bottom() - left - HEADING) return false;
      heading(text, height);
      const top = document.y;
      paintTemplate(document, template, [left, top]);
      document.x = left;
      document.y = top + height;
      return true;
    },
    async finish() {
      const { start, count } = document.bufferedPageRange();
      for (let k = start; k < start + count; k++) {
        document.switchToPage(k);
        document.page.margins.bottom = 0;
        document.font(REGULAR).fontSize(7).fillColor(QUIET);
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
