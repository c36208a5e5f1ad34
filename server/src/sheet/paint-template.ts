/** Puts a template on a page of a PDF at actual size. */
import type { Place, Template } from '#export/template';
import { INK, MM, plain, QUIET, REGULAR } from './type';

/** @param corner  upper left, in points */
export function paintTemplate(
  document: PDFKit.PDFDocument,
  { lines, words }: Template,
  [left, top]: readonly [number, number],
): void {
  const place = ([x, y]: Place): [number, number] => [left + x * MM, top + y * MM];
  for (const { points, width, kind } of lines) {
    for (const [k, point] of points.entries()) {
      if (k === 0) document.moveTo(...place(point));
      else document.lineTo(...place(point));
    }
    document
      .lineWidth(width * MM)
      .lineJoin('round')
      .strokeColor(kind === 'wire' ? WIRE : QUIET)
      .stroke();
  }
  document.font(REGULAR).fillColor(INK);
  for (const { at, text, size, anchor } of words) {
    document.fontSize(size * MM);
    const [x, y] = place(at);
    const shift = anchor === 'start' ? 0 : document.widthOfString(plain(text)) * (anchor === 'end' ? 1 : 0.5);
    document.text(plain(text), x - shift, y, { lineBreak: false, baseline: 'alphabetic' });
  }
}

const WIRE = '#3d4a56';
