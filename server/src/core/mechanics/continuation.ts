/** Following the wire's equilibrium: from nominal seats into its own, and along the activation. */
import { type HeldSpan, setControls } from './held-span';
import { clear, createHistory, extrapolate, type History, recall, remember } from './history';
import { newtonStep, step } from './newton';
import { relax } from './span';

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
export const strictCriteria: Criteria = { rotation: 1e-9, displacement: 1e-9, force: 1e-6, motion: 1e-9 };

/** An equilibrium path of one wire: its spans with shared controls. */
export interface WirePath {
  readonly spans: readonly HeldSpan[];
  readonly criteria: Criteria;
  /** Motion at the present state, mm. */
  motion: number;
  /** Force along the motion per mm at the present state, N/mm. */
  stiffness: number;
  readonly effort: { solves: number; iterations: number };
  readonly history: History;
}

export function createPath(
  spans: readonly HeldSpan[],
  criteria: Criteria,
  effort: { solves: number; iterations: number },
): WirePath {
  return { spans, criteria, motion: 0, stiffness: 0, effort, history: createHistory(spans) };
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
  clear(path.history);
  remember(path.history, path.spans, 0, 0);
  const outcome = follow(path, (share) => ({ share, motion: path.motion }), balance);
  // From here on the share stays 1, and what was before tells nothing about the motion.
  clear(path.history);
  remember(path.history, path.spans, path.motion, path.motion);
  return outcome;
}

/** Along the motion to the given amount, at full preactivation, in as many steps as it takes. */
export function advanceTo(path: WirePath, motion: number): Outcome {
  const start = path.motion;
  return follow(path, (part) => ({ share: 1, motion: start + part * (motion - start) }), false);
}

const SMALLEST_ADVANCE = 0.005;
const MOST_ITERATIONS = 12;

/**
 * Follows the controls given for 0 to 1, the present state being that of 0. Steps grow after easy solutions and
 * shrink after hard ones.
 */
function follow(
  path: WirePath,
  controlsAt: (part: number) => { readonly share: number; readonly motion: number },
  balance: boolean,
): Outcome {
  const { history, spans } = path;
  let done = 0;
  let advance = 1;
  for (;;) {
    const part = done + advance > 0.95 ? 1 : done + advance;
    const { share, motion } = controlsAt(part);
    const place = balance ? part : motion;
    extrapolate(history, spans, place);
    const iterations = solve(path, share, motion, balance);
    if (iterations > 0) {
      remember(history, spans, place, path.motion);
      done = part;
      if (done === 1) return { ok: true };
      if (iterations <= 4) advance *= 1.7;
      else if (iterations > 6) advance *= 0.7;
      continue;
    }
    path.motion = recall(history, spans);
    for (const held of spans) setControls(held, controlsAt(done).share, path.motion);
    advance *= 0.35;
    if (advance < SMALLEST_ADVANCE) {
      return { ok: false, residual: step.defectRotation, iterations: path.effort.iterations };
    }
  }
}

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
