/** Types of the build that asks nothing of the machine, the same as those of the package. */
declare module '*/pdfkit.browser.mjs' {
  export const PDFDocument: typeof import('pdfkit');
  export function registerStdFonts(...fonts: readonly unknown[]): void;
}
declare module 'pdfkit/standard-fonts/Helvetica' {
  const font: unknown;
  export default font;
}
declare module 'pdfkit/standard-fonts/HelveticaBold' {
  const font: unknown;
  export default font;
}
declare module 'pdfkit/output' {
  export function toBytes(document: PDFKit.PDFDocument): Promise<Uint8Array>;
}
