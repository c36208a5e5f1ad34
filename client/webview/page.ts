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
