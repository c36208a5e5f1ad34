/** Small helpers for building the page. Text goes in as text, never as markup. */

type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;

/** A true attribute is written without a value; false and undefined ones are left out. */
export function create<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[Name] {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== undefined && value !== false) element.setAttribute(key, value === true ? '' : String(value));
  }
  element.append(...children);
  return element;
}

/** Shows a line of text, or hides its element where there is none. */
export function showText(element: HTMLElement, text: string | undefined): void {
  element.hidden = text === undefined || text === '';
  if (element.textContent !== (text ?? '')) element.textContent = text ?? '';
}

/** A filled icon of 16 by 16 in the colour of the text. */
export function icon(path: string): SVGSVGElement {
  const svg = document.createElementNS(svgNamespace, 'svg');
  for (const [key, value] of Object.entries({
    viewBox: '0 0 16 16',
    width: '16',
    height: '16',
    'aria-hidden': 'true',
  })) {
    svg.setAttribute(key, value);
  }
  const shape = document.createElementNS(svgNamespace, 'path');
  shape.setAttribute('d', path);
  shape.setAttribute('fill', 'currentColor');
  svg.append(shape);
  return svg;
}

const svgNamespace = 'http://www.w3.org/2000/svg';
