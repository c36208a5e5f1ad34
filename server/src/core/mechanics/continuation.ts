/** Following the wire's equilibrium: from nominal seats into its own, and along the activation. */
import { type HeldSpan, newtonStep, setControls, step } from './held-span';
import { relax, restoreState, saveState, stateSize } from './span';

/** When a Newton iteration counts as converged; each bounds the last step taken, whose error is of its square. */
export interface Criteria {
  /** rad */
  readonly rotation: number;
  /** mm */
  readonly displacement: number;
  /** Change of end forces and moments, relative. */
  readonly force: number;
  /** mm of the motion, where it is unknown. */
  readonly motion: number;
}

export const defaultCriteria: Criteria = { rotation: 1e-3, displacement: 1e-2, force: 1e-2, motion: 1e-3 };
export const strictCriteria: Criteria = { rotation: 1e-9, displacement: 1e-9, force: 1e-9, motion: 1e-9 };

/** An equilibrium path of one wire: its spans with shared controls. */
export interface WirePath {
  readonly spans: readonly HeldSpan[];
  readonly criteria: Criteria;
  /** Motion at the present state, mm. */
  motion: number;
  /** Force along the motion per mm at the present state, N/mm. */
  stiffness: number;
  readonly effort: { solves: number; iterations: number };
  /** Last accepted state of each span. */
  readonly accepted: readonly Float64Array[];
}

export function createPath(
  spans: readonly HeldSpan[],
  criteria: Criteria,
  effort: { solves: number; iterations: number },
): WirePath {
  return {
    spans,
    criteria,
    motion: 0,
    stiffness: 0,
    effort,
    accepted: spans.map((held) => new Float64Array(stateSize(held.span))),
  };
}

export type Outcome =
  | { readonly ok: true }
  | { readonly ok: false; readonly residual: number; readonly iterations: number };

/**
 * From the nominal wire in nominal seats to the wire with all its preactivation in the attachments' own poses.
 * With `balance` the motion is let go so that no force acts along it: this leads to the neutral position.
 */
export function engage(path: WirePath, balance: boolean): Outcome {
  path.motion = 0;
  for (const held of path.spans) {
    setControls(held, 0, 0);
    relax(held.span);
  }
  accept(path);
  let share = 0;
  let advance = 1;
  for (;;) {
    const target = share + advance > 0.95 ? 1 : share + advance;
    const from = path.motion;
    const iterations = solve(path, target, path.motion, balance);
    if (iterations > 0) {
      accept(path);
      share = target;
      if (share === 1) return { ok: true };
      if (iterations <= 4) advance *= 1.7;
      else if (iterations > 6) advance *= 0.7;
      continue;
    }
    revert(path, share, from);
    advance *= 0.35;
    if (advance < SMALLEST_ADVANCE)
      return { ok: false, residual: step.defectRotation, iterations: path.effort.iterations };
  }
}

/** Along the motion to the given amount, at full preactivation, in as many steps as it takes. */
export function advanceTo(path: WirePath, motion: number): Outcome {
  const start = path.motion;
  const whole = motion - start;
  let done = 0;
  let advance = 1;
  for (;;) {
    const target = done + advance > 0.95 ? 1 : done + advance;
    const from = path.motion;
    const iterations = solve(path, 1, start + target * whole, false);
    if (iterations > 0) {
      accept(path);
      done = target;
      if (done === 1) return { ok: true };
      if (iterations <= 4) advance *= 1.7;
      else if (iterations > 6) advance *= 0.7;
      continue;
    }
    revert(path, 1, from);
    advance *= 0.35;
    if (advance < SMALLEST_ADVANCE)
      return { ok: false, residual: step.defectRotation, iterations: path.effort.iterations };
  }
}

const SMALLEST_ADVANCE = 0.005;
const MOST_ITERATIONS = 12;

/** Newton at the given controls; iterations taken, 0 where it does not converge. */
function solve(path: WirePath, share: number, motion: number, balance: boolean): number {
  const { spans, criteria } = path;
  for (const held of spans) setControls(held, share, motion);
  path.motion = motion;
  let defect = Number.POSITIVE_INFINITY;
  path.effort.solves++;
  for (let k = 1; k <= MOST_ITERATIONS; k++) {
    newtonStep(spans, balance);
    path.effort.iterations++;
    path.motion += step.motion;
    path.stiffness = step.stiffness;
    if (!step.ok || step.rotation > 2 || step.displacement > 1e3) return 0;
    const now = step.defectRotation + step.defectDisplacement;
    if (k > 3 && now > 2 * defect && now > 0.1) return 0;
    defect = now;
    if (
      step.rotation < criteria.rotation &&
      step.displacement < criteria.displacement &&
      step.force < criteria.force &&
      Math.abs(step.motion) < criteria.motion &&
      step.defectRotation < 0.1
    ) {
      return k;
    }
  }
  return 0;
}

function accept(path: WirePath): void {
  for (let k = 0; k < path.spans.length; k++) saveState(path.spans[k].span, path.accepted[k]);
}

function revert(path: WirePath, share: number, motion: number): void {
  path.motion = motion;
  for (let k = 0; k < path.spans.length; k++) {
    setControls(path.spans[k], share, motion);
    restoreState(path.spans[k].span, path.accepted[k]);
  }
}
