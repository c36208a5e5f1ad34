/** A new PDF in the type that sheets are written in. */
import { toBytes } from 'pdfkit/output';
import Helvetica from 'pdfkit/standard-fonts/Helvetica';
import HelveticaBold from 'pdfkit/standard-fonts/HelveticaBold';
// By its path: in Node the package's name stands for a build that looks for its fonts on the disk.
import { PDFDocument, registerStdFonts } from '../../../node_modules/pdfkit/js/pdfkit.browser.mjs';

registerStdFonts(Helvetica, HelveticaBold);

export interface DocumentInfo {
  readonly title: string;
  readonly creator: string;
}

/**
 * @param size  of the pages: a name, or width and height in points
 * @param margin  in points
 */
export function createDocument(
  size: string | [number, number],
  margin: number,
  { title, creator }: DocumentInfo,
): { readonly document: PDFKit.PDFDocument; readonly bytes: Promise<Uint8Array> } {
  const document = new PDFDocument({
    size,
    margin,
    bufferPages: true,
    // No date: the same file makes the same bytes.
    info: { Title: title, Creator: creator, CreationDate: new Date(0) },
  });
  return { document, bytes: toBytes(document) };
}
