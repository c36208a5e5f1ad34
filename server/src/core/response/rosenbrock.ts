/**
 * The same initial value problems where they are stiff, as where a wire resists being stretched far more than being bent: the
 * linearly implicit pair of Shampine and Reichelt (SIAM J Sci Comput 1997;18:1-22, "ode23s"), of second order and L-stable, with
 * a Jacobian by differences at every step, which it need not be exact.
 */
import { factorise, solveFactorised } from '../math/dense';
import type { Integrated, Motion, StepControl } from './runge-kutta';

/** Carries `position` on from one time to another, in place; as `integrateTo`. */
export function integrateStifflyTo(
  position: Float64Array,
  { from, to }: { readonly from: number; readonly to: number },
  scales: Float64Array,
  motion: Motion,
  { longest, error }: StepControl,
): Integrated {
  const size = position.length;
  const [f0, f1, f2, k1, k2, k3, next] = Array.from({ length: 7 }, () => new Float64Array(size));
  const jacobian = new Float64Array(size * size);
  const matrix = new Float64Array(size * size);
  const pivots = new Int32Array(size);
  let time = from;
  let step = Math.min(longest, to - from) / 8;
  let known = false;
  for (let count = 0; time < to - ROUNDING * (to - from); count++) {
    if (count >= MOST_STEPS) return { kind: 'too-many-steps', time };
    if (!known) {
      if (!motion.rates(position, f0) || !differences(position, f0, scales, motion, jacobian, next, f1))
        return { kind: 'no-rates', time };
      known = true;
    }
    const h = Math.min(step, longest, to - time);
    for (let i = 0; i < size * size; i++) matrix[i] = -h * D * jacobian[i];
    for (let i = 0; i < size; i++) matrix[i * size + i] += 1;
    const taken = factorise(matrix, size, pivots) !== 0 && stages();
    if (!taken) {
      step = h * LEAST_GROWTH;
      if (step < SMALLEST_STEP * (to - from)) return { kind: 'no-rates', time };
      continue;
    }
    let worst = 0;
    for (let i = 0; i < size; i++) worst = Math.max(worst, Math.abs((h / 6) * (k1[i] - 2 * k2[i] + k3[i])) * scales[i]);
    const factor = worst > 0 ? 0.8 * Math.cbrt(error / worst) : MOST_GROWTH;
    step = h * Math.min(MOST_GROWTH, Math.max(LEAST_GROWTH, factor));
    if (worst > error) continue;
    time += h;
    const share = motion.stepped(position, next, time);
    if (share !== undefined) {
      for (let i = 0; i < size; i++) position[i] += share * (next[i] - position[i]);
      return { kind: 'stopped', time: time - (1 - share) * h };
    }
    position.set(next);
    known = false;

    /** Fills `next`; false where rates are missing on the way. */
    function stages(): boolean {
      k1.set(f0);
      solveFactorised(matrix, size, pivots, k1);
      for (let i = 0; i < size; i++) next[i] = position[i] + 0.5 * h * k1[i];
      if (!motion.rates(next, f1)) return false;
      for (let i = 0; i < size; i++) k2[i] = f1[i] - k1[i];
      solveFactorised(matrix, size, pivots, k2);
      for (let i = 0; i < size; i++) k2[i] += k1[i];
      for (let i = 0; i < size; i++) next[i] = position[i] + h * k2[i];
      if (!motion.rates(next, f2)) return false;
      for (let i = 0; i < size; i++) k3[i] = f2[i] - E32 * (k2[i] - f1[i]) - 2 * (k1[i] - f0[i]);
      solveFactorised(matrix, size, pivots, k3);
      return true;
    }
  }
  return { kind: 'arrived' };
}

/** Column by column, row-major; the other way where rates are missing on the one side. */
function differences(
  position: Float64Array,
  f0: Float64Array,
  scales: Float64Array,
  motion: Motion,
  jacobian: Float64Array,
  at: Float64Array,
  into: Float64Array,
): boolean {
  const size = position.length;
  for (let j = 0; j < size; j++) {
    let change = DIFFERENCE / scales[j];
    at.set(position);
    at[j] += change;
    if (!motion.rates(at, into)) {
      change = -change;
      at[j] = position[j] + change;
      if (!motion.rates(at, into)) return false;
    }
    for (let i = 0; i < size; i++) jacobian[i * size + j] = (into[i] - f0[i]) / change;
  }
  return true;
}

const D = 1 / (2 + Math.SQRT2);
const E32 = 6 + Math.SQRT2;
/** In the units of the error: mm. */
const DIFFERENCE = 2e-3;
const MOST_STEPS = 200;
const MOST_GROWTH = 4;
const LEAST_GROWTH = 0.25;
const SMALLEST_STEP = 1e-9;
const ROUNDING = 1e-9;
