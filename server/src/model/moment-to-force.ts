import type { Wrench } from '#core/analysis/analysis';

/** Below this force a ratio says nothing, N (as for requirements). */
const LEAST_FORCE = 0.01;

/** Moment crown-mesial over force distal, mm: the tipping moment against the pull along the arch; undefined without a pull. */
export function momentToForce({ force, moment }: Wrench): number | undefined {
  return Math.abs(force[0]) < LEAST_FORCE ? undefined : moment[2] / -force[0];
}
