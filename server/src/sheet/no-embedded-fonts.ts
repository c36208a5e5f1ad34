/** Stands in bundles for the PDF library's font reader, two megabytes that only embedded fonts need: sheets use the standard ones. */
export function create(): never {
  throw new Error('Sheets are written in the standard PDF fonts only.');
}
