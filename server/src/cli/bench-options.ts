/** What the options of a bending plan stand for: wire to hold it by and the plier, the usual ones where nothing is said. */
import { type BendingPlanOptions, USUAL_BENCH } from '#model/bending/bending-plan';

export function benchOf({ holding, beak }: { readonly holding?: number; readonly beak?: number }): BendingPlanOptions {
  return { holding: holding ?? USUAL_BENCH.holding, beakWidth: beak ?? USUAL_BENCH.beakWidth };
}
