/**
 * An initial value problem by the embedded pair of Bogacki and Shampine (1989): third order, with the second-order solution
 * beside it to choose the step by. The last stage of a step is the first of the next.
 */

export interface StepControl {
  /** Longest step. */
  readonly longest: number;
  /** Largest error of a step, in the units that `scales` give. */
  readonly error: number;
}

export interface Motion {
  /** Rates at a position; false where there are none. */
  rates(at: Float64Array, into: Float64Array): boolean;
  /** After each step; a number stops at that share of the step. */
  stepped(before: Float64Array, after: Float64Array, time: number): number | undefined;
}

export type Integrated =
  | { readonly kind: 'arrived' }
  | { readonly kind: 'stopped'; readonly time: number }
  | { readonly kind: 'no-rates'; readonly time: number }
  | { readonly kind: 'too-many-steps'; readonly time: number };

/** Carries `position` on from one time to another, in place. `scales` turn each component into the units of the error. */
export function integrateTo(
  position: Float64Array,
  { from, to }: { readonly from: number; readonly to: number },
  scales: Float64Array,
  motion: Motion,
  { longest, error }: StepControl,
): Integrated {
  const size = position.length;
  const [k1, k2, k3, k4, next] = Array.from({ length: 5 }, () => new Float64Array(size));
  let time = from;
  if (!motion.rates(position, k1)) return { kind: 'no-rates', time };
  let step = Math.min(longest, to - from);
  for (let count = 0; time < to - ROUNDING * (to - from); count++) {
    if (count >= MOST_STEPS) return { kind: 'too-many-steps', time };
    const h = Math.min(step, longest, to - time);
    for (let i = 0; i < size; i++) next[i] = position[i] + 0.5 * h * k1[i];
    if (!motion.rates(next, k2)) return { kind: 'no-rates', time };
    for (let i = 0; i < size; i++) next[i] = position[i] + 0.75 * h * k2[i];
    if (!motion.rates(next, k3)) return { kind: 'no-rates', time };
    for (let i = 0; i < size; i++) next[i] = position[i] + (h / 9) * (2 * k1[i] + 3 * k2[i] + 4 * k3[i]);
    if (!motion.rates(next, k4)) return { kind: 'no-rates', time };
    let worst = 0;
    for (let i = 0; i < size; i++) {
      const off = h * ((-5 / 72) * k1[i] + (1 / 12) * k2[i] + (1 / 9) * k3[i] - (1 / 8) * k4[i]);
      worst = Math.max(worst, Math.abs(off) * scales[i]);
    }
    const factor = worst > 0 ? 0.9 * Math.cbrt(error / worst) : MOST_GROWTH;
    step = h * Math.min(MOST_GROWTH, Math.max(LEAST_GROWTH, factor));
    if (worst > error) continue;
    time += h;
    const share = motion.stepped(position, next, time);
    if (share !== undefined) {
      for (let i = 0; i < size; i++) position[i] += share * (next[i] - position[i]);
      return { kind: 'stopped', time: time - (1 - share) * h };
    }
    position.set(next);
    k1.set(k4);
  }
  return { kind: 'arrived' };
}

/** More are a sign of a stiff problem. */
const MOST_STEPS = 20;
const MOST_GROWTH = 3;
const LEAST_GROWTH = 0.3;
const ROUNDING = 1e-9;
