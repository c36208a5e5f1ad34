/** A part of the page that folds away under its name. */
import { create } from './page';

/** @param onToggle  called when it is opened or closed */
export function createFold(
  name: string,
  isOpen: boolean,
  onToggle: (open: boolean) => void,
  ...content: readonly HTMLElement[]
): HTMLDetailsElement {
  const element = create('details', { class: 'fold', open: isOpen }, create('summary', {}, name), ...content);
  let known = isOpen;
  element.addEventListener('toggle', () => {
    // A part that is open from the start says so too.
    if (element.open === known) return;
    known = element.open;
    onToggle(known);
  });
  return element;
}
