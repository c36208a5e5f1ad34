/** Many random designs solved, and what became of them. */
import { analyseAppliance } from '#core/analysis/analyse';
import type { AnalysisOptions, Failure } from '#core/analysis/analysis';
import { imbalance } from '../validation/balance';
import { confirmed, spanAndWire } from './confirm-failure';
import { randomDesign, randomNumbers } from './random-designs';

export interface Survey {
  readonly designs: number;
  /** Designs by what they came to: converged, or the first cause named. */
  readonly causes: ReadonlyMap<string, number>;
  /** Failures that the design itself does not show, of wires that are not taut. */
  readonly unexplained: readonly string[];
  /** The same of wires whose span comes to 0.95 of the wire between the seats or more, which the goal leaves out. */
  readonly taut: number;
  /** Largest imbalance of forces or moments, of the largest term. */
  readonly imbalance: number;
  /** States with a number that is not finite. */
  readonly notFinite: number;
  readonly states: number;
  readonly seconds: number;
}

/** The goal leaves out wires that are pulled nearly straight (mechanics note). */
const TAUT = 0.95;

export function survey(count: number, seed: number, options: Partial<AnalysisOptions> = {}): Survey {
  const random = randomNumbers(seed);
  const causes = new Map<string, number>();
  const unexplained: string[] = [];
  let [taut, worst, notFinite, states] = [0, 0, 0, 0];
  const begun = performance.now();
  for (let k = 0; k < count; k++) {
    const design = randomDesign(random);
    const analysis = analyseAppliance(design, options);
    const failures: Failure[] = analysis.failure ? [analysis.failure] : [];
    for (const { state, failure } of analysis.stages) {
      if (failure) failures.push(failure);
      if (!state) continue;
      states++;
      const { force, moment } = imbalance(design, state);
      worst = Math.max(worst, force, moment);
      const numbers = [state.stress, state.motion, ...state.wrenches.flatMap((w) => [...w.force, ...w.moment])];
      if (!numbers.every(Number.isFinite)) notFinite++;
    }
    const cause = failures[0]?.reason ?? 'converged';
    causes.set(cause, (causes.get(cause) ?? 0) + 1);
    const odd = failures.find((failure) => !confirmed(design, failure));
    if (!odd) continue;
    const { span, wire } = spanAndWire(design, 'motion' in odd ? odd.motion : 0);
    if (span >= TAUT * wire) taut++;
    else unexplained.push(`design ${k}: ${JSON.stringify(odd)}`);
  }
  const seconds = (performance.now() - begun) / 1000;
  return { designs: count, causes, unexplained, taut, imbalance: worst, notFinite, states, seconds };
}

export function surveyText({ designs, causes, taut, unexplained, imbalance, states, seconds }: Survey): string {
  return [
    `${designs} random designs, ${seconds.toFixed(1)} s, ${states} states:`,
    `${[...causes].map(([cause, count]) => `${count} ${cause}`).join(', ')};`,
    `${unexplained.length} without a cause that the design shows, ${taut} more of taut wires;`,
    `largest imbalance ${imbalance.toExponential(1)} of the largest term`,
  ].join(' ');
}
