/** What is read off an inelastic span in equilibrium. */
import type { ApplianceDesign } from '../../design';
import { stressAtMost } from '../../material/fibre-history';
import { largestStress } from '../../material/fibre-slip';
import { factorise } from '../../math/dense';
import type { PlacedSpan } from '../placed-span';
import { endIsStable, signAtEnd, turnAt } from '../stability';
import { reactionsOnArrival, type SpanReactions } from '../wrench';
import { type InelasticSpan, sectionStrain, WIDTH } from './inelastic-span';
import { sweep } from './sweep';

/** As wrench.ts has it; what its sections miss equilibrium by counts as residual. */
export function inelasticReactions(
  of: InelasticSpan,
  design: ApplianceDesign,
  placed: PlacedSpan,
  motion: number,
): SpanReactions {
  sweep(of, false);
  const reactions = reactionsOnArrival(design, placed, motion);
  const { force, moment } = reactions.residual;
  return { ...reactions, residual: { force, moment: Math.max(moment, of.unbalanced) } };
}

/**
 * No conjugate point along the span, and a stiff end (stability.ts), with the sections as stiff as they are for going on. A span in a plane
 * is looked at in that plane only.
 */
export function inelasticIsStable({ held, span, columns }: InelasticSpan): boolean {
  if (span.loose) return span.loose.stable;
  const last = span.mesh.steps;
  let sign = signAtEnd(span);
  for (let i = last; i > 0; i--) {
    const turn = turnAt(span, i);
    sign *= turn;
    if ((last - i) % STRIDE !== 0) continue;
    const size = span.planar ? 3 : 6;
    for (let r = 0; r < size; r++) {
      for (let c = 0; c < size; c++) {
        const [row, column] = span.planar ? [r + 2, c + 2] : [r, c];
        matrix[size * c + r] = columns[WIDTH * i + 6 * column + row];
      }
    }
    if (sign * turn * factorise(matrix, size, pivots) < 0) return false;
  }
  return held.end.kind === 'clamped' || endIsStable(held);
}

const STRIDE = 3;
const matrix = new Float64Array(36);
const pivots = new Int32Array(6);

/** Largest stress of a fibre along the span from bending, torsion and stretch, MPa; by von Mises where torsion yields. */
export function largestFibreStress(of: InelasticSpan): number {
  const { sections, history, historyAt, span } = of;
  const { rotation, mesh } = span;
  let largest = 0;
  for (let i = 0; i < mesh.steps; i++) {
    if (mesh.h[i] === 0) continue;
    const [w, x, y, z] = [rotation[4 * i], rotation[4 * i + 1], rotation[4 * i + 2], rotation[4 * i + 3]];
    const u = of.forces[i];
    const tension = u[3] * (1 - 2 * (y * y + z * z)) + u[4] * 2 * (x * y + w * z) + u[5] * 2 * (x * z - w * y);
    const section = sections[i];
    const pulled = Math.abs(tension) / section.size;
    for (let point = 2 * i; point < 2 * i + 2; point++) {
      const at = historyAt[point];
      const twist = sectionStrain(of, point, 0);
      const up = sectionStrain(of, point, 1);
      const side = sectionStrain(of, point, 2);
      if (stressAtMost(section, history, at, twist, up, side) + pulled <= largest) continue;
      const stress = largestStress(section, history, at, twist, up, side);
      largest = Math.max(largest, stress + pulled);
    }
  }
  return largest;
}
