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
}

export interface Row {
  /** Number in the handbook's list of check cases. */
  readonly row: string;
  readonly title: string;
  readonly source: string;
  /** The assumptions of the source; the row is held to its tolerance under them. */
  readonly model: Model;
  readonly checks: (solver: Solver) => Check[];
}

/**
 * 'bending-only' leaves out shear and stretch. 'slender' keeps them, but gives the row a wire of a fiftieth of the
 * thickness and the same stiffness: a straight wire between two brackets cannot bend at all without stretching or
 * sliding, so the first model has no answer there, while a slender wire shows its limit. 'full' is for rows in which
 * neither shear nor stretch takes part.
 */
export type Model = 'bending-only' | 'slender' | 'full';

/** Runs texts in one model and keeps every equilibrium for the balance row (C60). */
export class Solver {
  readonly states: { readonly design: ApplianceDesign; readonly state: EngagedState }[] = [];
  private readonly compliance: AnalysisOptions['compliance'];

  constructor(readonly model: Model) {
    this.compliance = model === 'bending-only' ? 'bending-only' : 'full';
  }

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
  readonly yield?: string;
}): string {
  return `alloy test_alloy { modulus = ${input.modulus} poisson = 0.3 yield = ${input.yield ?? '1500 MPa'} inner_radius = 1 }
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

/** A round wire of given stiffness E I (N mm²): of its own thickness (mm), or a fiftieth of it where the model asks. */
export function roundWire(model: Model, rigidity: number, thickness: number) {
  const diameter = model === 'slender' ? thickness / 50 : thickness;
  const modulus = rigidity / ((Math.PI * diameter ** 4) / 64);
  return { wire: `round ${mm(diameter)}`, modulus: `${modulus} MPa`, yield: `${modulus / 100} MPa` };
}
