/**
 * Solves once per set of numeric inputs: an edit of a comment or a name solves nothing. Keeps the
 * analyses used last. What a trial activation that no file asks for would change can be left to come later.
 */
import type { AnalysisSteps } from '#core/analysis/analyse';
import type { ApplianceAnalysis } from '#core/analysis/analysis';

export interface AnalysisCache {
  /**
   * The analysis kept under `key`, else the one that `begin` leads to, which is then kept. Not `whole`, it may lack the
   * trial activation that the file does not ask for (`yielding.trialToCome`).
   */
  get(key: string, begin: () => AnalysisSteps, whole: boolean): ApplianceAnalysis;
  /** The analysis kept under `key`, as far as it has come; counts as use. */
  peek(key: string): ApplianceAnalysis | undefined;
  /** Goes on with the analysis under `key` by one equilibrium; whether there is more to do. */
  advance(key: string): boolean;
  isWhole(key: string): boolean;
  /** How often an analysis was begun. */
  readonly solves: number;
}

interface Kept {
  analysis: ApplianceAnalysis | undefined;
  /** What is still to be done. */
  steps: AnalysisSteps | undefined;
}

export function createAnalysisCache(capacity: number): AnalysisCache {
  // A Map keeps insertion order: the first key is the one not used for longest.
  const kept = new Map<string, Kept>();
  let solves = 0;
  return {
    get(key, begin, whole) {
      let one = kept.get(key);
      if (one === undefined) {
        solves += 1;
        one = { analysis: undefined, steps: begin() };
      } else {
        kept.delete(key);
      }
      while (one.steps && (whole || !one.analysis)) step(one);
      kept.set(key, one);
      if (kept.size > capacity) kept.delete(kept.keys().next().value as string);
      return one.analysis as ApplianceAnalysis;
    },
    peek(key) {
      const one = kept.get(key);
      if (one === undefined) return undefined;
      kept.delete(key);
      kept.set(key, one);
      return one.analysis;
    },
    advance(key) {
      const one = kept.get(key);
      if (one?.steps) step(one);
      return one?.steps !== undefined;
    },
    isWhole: (key) => kept.get(key)?.steps === undefined,
    get solves() {
      return solves;
    },
  };
}

function step(one: Kept): void {
  const { done, value } = one.steps!.next();
  if (value) one.analysis = value;
  if (done) one.steps = undefined;
}
