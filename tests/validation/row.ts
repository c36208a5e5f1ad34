/** One row of the validation table: what a source says and what the product computes from `.spring` text. */
import type { AnalysisOptions, EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { runSpring, type SpringRun, stageOf } from './run-spring';

export interface Check {
  readonly quantity: string;
  readonly unit: string;
  readonly expected: number;
  readonly obtained: number;
  /** Relative to the expected value, unless `scale` gives what it is relative to; 'at most' bounds from above. */
  readonly tolerance: number;
  readonly scale?: number;
  readonly bound?: 'at most';
  /** Shown beside the others and held to nothing, as its source is a spread. */
  readonly information?: true;
}

export interface Row {
  /** Number in the handbook's list of check cases. */
  readonly row: string;
  readonly title: string;
  readonly source: string;
  readonly checks: (solver: Solver) => Check[];
}

/** Runs texts in one model and keeps every equilibrium for the balance row (C60). */
export class Solver {
  readonly states: { readonly design: ApplianceDesign; readonly state: EngagedState }[] = [];

  constructor(private readonly compliance: AnalysisOptions['compliance']) {}

  run(text: string): SpringRun {
    const run = runSpring(text, { compliance: this.compliance });
    for (const { state } of run.analysis.stages) if (state) this.states.push({ design: run.design, state });
    return run;
  }

  /** The state of the last stage (of the only one where nothing is activated). */
  last(text: string): EngagedState {
    const run = this.run(text);
    return stageOf(run, run.analysis.stages.length - 1);
  }
}

/** How far a check misses, in units of its own tolerance scale. */
export function difference(check: Check): number {
  const miss = check.obtained - check.expected;
  return (check.bound ? Math.max(0, miss) : Math.abs(miss)) / Math.abs(check.scale ?? check.expected);
}

/** Appliance text around a path, with a wire and an alloy of its own. */
export function appliance(input: {
  readonly wire: string;
  readonly modulus: string;
  readonly path: string;
  readonly members: string;
}): string {
  return `alloy test_alloy { modulus = ${input.modulus} poisson = 0.3 yield = 1500 MPa inner_radius = 1 }
appliance check {
  wire ${input.wire} of test_alloy
  path running mesial {
    ${input.path}
  }
  ${input.members}
}
`;
}

/** A number as the language writes it, without losing a digit. */
export function mm(value: number): string {
  return `${value} mm`;
}

/** A 0.016 in round wire with an alloy that gives it the stiffness E I, N mm². */
export function roundWire(rigidity: number) {
  return { wire: 'round 0.016 in', modulus: `${rigidity / ((Math.PI * 0.4064 ** 4) / 64)} MPa` };
}
