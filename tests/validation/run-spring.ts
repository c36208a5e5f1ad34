/** From the text of a `.spring` file to the analysis of its first appliance, exactly as the product does it. */

import { analyseAppliance } from '#core/analysis/analyse';
import type { AnalysisOptions, ApplianceAnalysis, EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { parse } from '#grammar/parser';
import { library } from '#library';
import { type ImportResult, resolveFile } from '#model/resolve';
import type { ResolvedAppliance } from '#model/resolved';

export interface SpringRun {
  readonly design: ApplianceDesign;
  readonly analysis: ApplianceAnalysis;
}

/** The first appliance of a text that must be free of errors. */
export function applianceOf(text: string): ResolvedAppliance {
  const { tree, problems } = parse(text);
  if (problems.length > 0) throw new Error(`${problems[0].message}\n${text}`);
  const file = resolveFile('test:/validation.spring', tree, text, bundled);
  const error = file.problems.find((problem) => problem.severity === 'error');
  if (error) throw new Error(`${error.message} (${text.slice(error.span.start, error.span.end)})\n${text}`);
  const [appliance] = file.appliances;
  if (!appliance) throw new Error(`no appliance\n${text}`);
  return appliance;
}

/** Its design. */
export function designOf(text: string): ApplianceDesign {
  const { design } = applianceOf(text);
  if (!design) throw new Error(`no design\n${text}`);
  return design;
}

/**
 * Analysis of the first appliance, on the strict mesh and elastic throughout unless said otherwise: the rows compare with
 * formulas for elastic wires.
 */
export function runSpring(text: string, options: Partial<AnalysisOptions> = {}): SpringRun {
  const design = designOf(text);
  return { design, analysis: analyseAppliance(design, { mesh: 'strict', yielding: 'elastic', ...options }) };
}

/** State of the stage with this index. */
export function stageOf(run: SpringRun, index: number): EngagedState {
  const stage = run.analysis.stages[index];
  if (!stage?.state) {
    throw new Error(`no equilibrium: ${JSON.stringify(stage?.failure ?? run.analysis.failure)}`);
  }
  return stage.state;
}

/** The bundled library, for `use "alloys"` and its like. */
function bundled(path: string): ImportResult {
  const text = library.get(path);
  if (text === undefined) return { kind: 'missing' };
  return { kind: 'module', file: resolveFile(`springwright-library:/${path}.spring`, parse(text).tree, text, bundled) };
}
