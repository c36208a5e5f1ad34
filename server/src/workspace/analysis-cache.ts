/**
 * Solves once per set of numeric inputs: an edit of a comment or a name solves nothing. Keeps the
 * analyses used last.
 */
import type { ApplianceAnalysis } from '#core/analysis/analysis';

export interface AnalysisCache {
  /** The analysis kept under `key`, else the one `solve` yields, which is then kept. */
  get(key: string, solve: () => ApplianceAnalysis): ApplianceAnalysis;
  /** How often `solve` was called. */
  readonly solves: number;
}

export function createAnalysisCache(capacity: number): AnalysisCache {
  // A Map keeps insertion order: the first key is the one not used for longest.
  const kept = new Map<string, ApplianceAnalysis>();
  let solves = 0;
  return {
    get(key, solve) {
      let analysis = kept.get(key);
      if (analysis === undefined) {
        solves += 1;
        analysis = solve();
      } else {
        kept.delete(key);
      }
      kept.set(key, analysis);
      if (kept.size > capacity) kept.delete(kept.keys().next().value as string);
      return analysis;
    },
    get solves() {
      return solves;
    },
  };
}
