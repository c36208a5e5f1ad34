/** An activation curve as it is being solved, and why a state of it could not be. */
import type { ApplianceDesign } from '../design';
import type { Residual } from '../mechanics/continuation';
import type { EngagedState, Failure, StageResult } from './analysis';
import { holdsBothEnds, motionFailure, reach } from './feasibility';

export interface Curve {
  readonly neutral: EngagedState | undefined;
  readonly stages: readonly StageResult[];
  readonly stiffness: readonly (number | undefined)[];
  readonly failure: Failure | undefined;
  readonly effort: { readonly solves: number; readonly iterations: number };
}

export function failedCurve(failure: Failure, effort = { solves: 0, iterations: 0 }): Curve {
  return { neutral: undefined, stages: [], stiffness: [], failure, effort };
}

/**
 * The stages in their order, each extra activation where the path first passes it, or at the end where it does not.
 */
export function visitingOrder(asked: readonly number[], stages: number): readonly number[] {
  const order: number[] = [];
  const open = asked.map((_, k) => k).slice(stages);
  let at = 0;
  for (let k = 0; k < stages; k++) {
    const [low, high] = [Math.min(at, asked[k]), Math.max(at, asked[k])];
    const passed = open.filter((e) => asked[e] >= low && asked[e] <= high);
    passed.sort((a, b) => (asked[k] >= at ? asked[a] - asked[b] : asked[b] - asked[a]));
    for (const e of passed) open.splice(open.indexOf(e), 1);
    order.push(...passed, k);
    at = asked[k];
  }
  return [...order, ...open];
}

/** Why a state could not be solved. */
export function unsolved(
  design: ApplianceDesign,
  effort: { readonly iterations: number },
  neutral: number,
  motion: number,
  residual: Residual,
): Failure {
  const impossible = motionFailure(design, motion);
  if (impossible) return fromNeutral(impossible, neutral);
  for (let k = 0; k + 1 < design.attachments.length; k++) {
    if (!holdsBothEnds(design, k)) continue;
    const { span, wire } = reach(design, k, motion);
    if (span >= wire) return { reason: 'span-exceeds-wire', span, wire, motion: motion - neutral };
  }
  if ('force' in residual) return { reason: 'no-neutral', motion: motion - neutral };
  return {
    reason: 'not-converged',
    motion: motion - neutral,
    residual: Number.isFinite(residual.turn) ? residual.turn : undefined,
    iterations: effort.iterations,
  };
}

export function fromNeutral(failure: Failure, neutral: number): Failure {
  return 'motion' in failure ? { ...failure, motion: failure.motion - neutral } : failure;
}
