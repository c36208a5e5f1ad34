/** Puts a drawing's marks on a page of a PDF. */
import type { DrawingMarks, Look, Mark } from './drawing-marks';
import { BOLD, plain, REGULAR } from './type';

/**
 * @param at  upper left corner, in points
 * @param factor  points per canvas unit
 */
export function paintMarks(
  document: PDFKit.PDFDocument,
  { marks }: DrawingMarks,
  at: readonly [number, number],
  factor: number,
): void {
  document.save();
  document.translate(...at).scale(factor);
  for (const mark of marks) paintMark(document, mark);
  document.restore();
}

function paintMark(document: PDFKit.PDFDocument, mark: Mark): void {
  document.save();
  for (const move of mark.moves) {
    if (move.kind === 'translate') document.translate(...move.by);
    else document.rotate(move.angle);
  }
  setLook(document, mark.look);
  if (mark.kind === 'text') writeWords(document, mark);
  else {
    trace(document, mark);
    const { fill, stroke } = mark.look;
    if (fill && stroke) document.fillAndStroke();
    else if (fill) document.fill();
    else document.stroke();
  }
  document.restore();
}

function setLook(document: PDFKit.PDFDocument, { fill, stroke, strokeWidth, opacity, dash, cap, join }: Look): void {
  if (fill) document.fillColor(fill);
  if (stroke) document.strokeColor(stroke).lineWidth(strokeWidth).lineCap(cap).lineJoin(join);
  if (opacity !== 1) document.opacity(opacity);
  if (dash.length > 0) document.dash(dash[0], { space: dash[1] });
}

function trace(document: PDFKit.PDFDocument, mark: Exclude<Mark, { kind: 'text' }>): void {
  switch (mark.kind) {
    case 'path':
      document.path(mark.d);
      break;
    case 'rect':
      if (mark.radius > 0) document.roundedRect(mark.x, mark.y, mark.width, mark.height, mark.radius);
      else document.rect(mark.x, mark.y, mark.width, mark.height);
      break;
    case 'circle':
      document.circle(mark.x, mark.y, mark.radius);
  }
}

function writeWords(
  document: PDFKit.PDFDocument,
  { text, x, y, look: { fontSize, bold, anchor, fill, stroke } }: Extract<Mark, { kind: 'text' }>,
): void {
  document.font(bold ? BOLD : REGULAR).fontSize(fontSize);
  const words = plain(text);
  const shift = anchor === 'start' ? 0 : document.widthOfString(words) * (anchor === 'end' ? 1 : 0.5);
  document.text(words, x - shift, y, {
    lineBreak: false,
    baseline: 'alphabetic',
    fill: fill !== undefined,
    stroke: stroke !== undefined,
  });
}
