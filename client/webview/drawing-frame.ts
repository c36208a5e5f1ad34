/** The drawing, as the server sends it. */

/**
 * Puts an `<svg>` into its frame, read as XML and never as HTML. Scripts and handlers in it would not run: the page's policy
 * allows only its own script.
 */
export function showDrawing(frame: HTMLElement, drawing: string | undefined): void {
  frame.hidden = drawing === undefined;
  if (drawing === undefined) return;
  const svg = new DOMParser().parseFromString(drawing, 'image/svg+xml').documentElement;
  if (svg.localName !== 'svg') throw new Error('The drawing is not an <svg> element.');
  frame.replaceChildren(document.importNode(svg, true));
}
