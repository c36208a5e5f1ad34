/** A template as a PDF of one page that is as large as it is. */
import type { Template } from '#export/template';
import { createDocument, type DocumentInfo } from './document';
import { paintTemplate } from './paint-template';
import { MM } from './type';

export function templatePdf(template: Template, info: DocumentInfo): Promise<Uint8Array> {
  const { document, bytes } = createDocument([template.width * MM, template.height * MM], 0, info);
  paintTemplate(document, template, [0, 0]);
  document.end();
  return bytes;
}
