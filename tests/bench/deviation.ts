/** How far two analyses of the same stages differ, relative to the largest value of its kind over the curve. */
import type { ApplianceAnalysis } from '#core/analysis/analysis';

export function deviation(a: ApplianceAnalysis, b: ApplianceAnalysis): { force: number; moment: number } {
  const result = { force: 0, moment: 0 };
  for (const kind of ['force', 'moment'] as const) {
    let largest = 0;
    let miss = 0;
    for (const [k, stage] of b.stages.entries()) {
      const other = a.stages[k].state;
      if (!stage.state || !other) throw new Error('a stage has no equilibrium');
      for (const [i, wrench] of stage.state.wrenches.entries()) {
        for (const [axis, value] of wrench[kind].entries()) {
          largest = Math.max(largest, Math.abs(value));
          miss = Math.max(miss, Math.abs(value - other.wrenches[i][kind][axis]));
        }
      }
    }
    result[kind] = miss / largest;
  }
  return result;
}
