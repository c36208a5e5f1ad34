/** Whether a mesh is fine enough for the deformation it has to follow. */

import type { MeshRule } from './mesh';
import type { PlacedSpan } from './placed-span';
import { strainRates } from './strain-rates';

/**
 * Halvings per span and piece where a step turns elastically by more than the rule allows; undefined where the
 * mesh will do. `current` are the halvings the spans were meshed with.
 */
export function splitsNeeded(
  spans: readonly PlacedSpan[],
  rule: MeshRule,
  current: readonly (readonly number[])[],
): readonly (readonly number[])[] | undefined {
  let needed = false;
  const splits = spans.map(({ held }, s) => {
    const { mesh } = held.span;
    return mesh.pieces.map((_, k) => {
      let more = current[s]?.[k] ?? 0;
      let largest = 0;
      for (let i = mesh.firstStep[k]; i < mesh.firstStep[k + 1]; i++) {
        strainRates(held.span, i, rates);
        largest = Math.max(largest, mesh.h[i] * Math.sqrt(rates[0] ** 2 + rates[1] ** 2 + rates[2] ** 2));
      }
      for (; largest > rule.elastic; largest /= 2) {
        more++;
        needed = true;
      }
      return more;
    });
  });
  return needed ? splits : undefined;
}

const rates = new Float64Array(6);
