/**
 * One-sided contact that takes hold little by little: what presses, found by a primal-dual interior point method along with the
 * wire's equilibrium.
 */

/** mm, from which contacts take hold: at first they keep the wire in the slot's middle as a clamp does, in the end just where it touches. */
const WIDEST = 0.3;
const NARROWEST = 1e-7;
let rounding = NARROWEST;

/** From 0, the widest rounding, to 1, the narrowest. */
export function setContactHardness(degree: number): void {
  rounding = degree === 1 ? NARROWEST : WIDEST ** (1 - degree) * NARROWEST ** degree;
}

/** Counts up where the wire is put elsewhere: what presses there has to be found anew. */
let restarts = 0;

export function restartContacts(): void {
  restarts++;
}

/** What presses on either side of a gap, N (or N mm), as the latest Newton step left it. */
export interface Pressing {
  readonly sides: Float64Array;
  restarts: number;
}

export function notPressing(): Pressing {
  return { sides: new Float64Array(2), restarts: -1 };
}

/** What `resistBetween` found: force (or moment) back and its rate; `unsettled` where a contact is letting go as fast as it may. */
export const resisted = { force: 0, stiffness: 0, unsettled: false };

/**
 * Contacts on both sides of a gap, `away` from its middle, rounded over ε: k (p + √(p² + ε²)) / 2 with p the way past a side. That is
 * never a pull, and p = f/k - μ/f with μ = k ε²/4. Newton's method takes it in that form, the force with the way (a primal-dual
 * interior point method): small forces let the wire go far, and large ones do not. Without a gap the wire is held both ways. ε is the rounding times `scale`.
 */
export function resistBetween(away: number, gap: number, k: number, scale: number, pressing: Pressing): void {
  resisted.unsettled = false;
  if (gap === 0) {
    resisted.force = k * away;
    resisted.stiffness = k;
    return;
  }
  resisted.force = resisted.stiffness = 0;
  const round = scale * rounding;
  const product = 0.25 * k * round * round;
  for (let side = 0; side < 2; side++) {
    const p = (side === 0 ? away : -away) - gap;
    const root = Math.sqrt(p * p + round * round);
    // Far from contact the difference of two like numbers.
    const alone = p > 0 ? 0.5 * k * (p + root) : (2 * product) / (root - p);
    let force = pressing.sides[side];
    if (pressing.restarts !== restarts) force = alone;
    else {
      const expected = force + (p - (force / k - product / force)) / (1 / k + product / (force * force));
      force = Math.max(expected, alone, LET_GO * Math.min(force, LARGEST_FORCE));
      if (force - expected > UNSETTLED * force + LEAST) resisted.unsettled = true;
    }
    pressing.sides[side] = force;
    const rate = 1 / (1 / k + product / (force * force));
    resisted.force += (side === 0 ? 1 : -1) * (force + (p - (force / k - product / force)) * rate);
    resisted.stiffness += rate;
  }
  pressing.restarts = restarts;
}

/** Share of a force that a Newton step leaves of it at least, of no more than so many N or N mm. */
const LET_GO = 0.03;
const LARGEST_FORCE = 1e3;
/** What a contact may miss, as a share of its force and in N or N mm. */
const UNSETTLED = 0.2;
const LEAST = 1e-5;
