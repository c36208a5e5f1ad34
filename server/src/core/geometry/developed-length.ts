import type { WireElement } from '../design';

/** Length of the wire along its centre line, mm. */
export function developedLength(elements: readonly WireElement[]): number {
  return elements.reduce((sum, element) => sum + element.length, 0);
}
