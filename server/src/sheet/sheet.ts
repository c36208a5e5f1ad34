/** Sheets to print, as PDF: the design with its template and bending table, or one card for the chair. */
import { chairsideCard } from './chairside-card';
import { designSheet } from './design-sheet';
import { createPage } from './page';
import type { SheetInput } from './sheet-input';

/** The bytes of a PDF; the same for the same text, units and program. */
export async function makeSheet(input: SheetInput): Promise<Uint8Array> {
  const { evaluated, text, path, version, paper, card, date } = input;
  const { name } = evaluated.appliance;
  const origin = `${path}, ${await contentHash(text)}${date ? `, ${date}` : ''}`;
  const page = createPage(
    paper,
    { title: card ? `${name}: chairside card` : name, creator: `Springwright ${version}` },
    `${origin}, Springwright ${version}. A design, not a record: keep patient data off this sheet.`,
  );
  if (card) chairsideCard(page, input, origin);
  else designSheet(page, input, origin);
  return page.finish();
}

/** Tells two versions of a file apart. */
async function contentHash(text: string): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return `SHA-256 ${[...digest.subarray(0, 6)].map((byte) => byte.toString(16).padStart(2, '0')).join('')}`;
}
