/** What the elimination along a span that its supports alone hold leaves behind (loose-span.ts). */
export interface LooseSweep {
  /** S (36) and s (6) of every step. */
  readonly stiffness: Float64Array;
  readonly rest: Float64Array;
  /** G of every step, factorised, and Ψ s + d. */
  readonly transfer: Float64Array;
  readonly pivots: Int32Array;
  readonly shift: Float64Array;
  stable: boolean;
}

export function createLooseSweep(steps: number): LooseSweep {
  return {
    stiffness: new Float64Array(36 * steps),
    rest: new Float64Array(6 * steps),
    transfer: new Float64Array(36 * steps),
    pivots: new Int32Array(6 * steps),
    shift: new Float64Array(6 * steps),
    stable: true,
  };
}
