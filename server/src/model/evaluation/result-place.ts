/** Where expressions are evaluated with the results of one state. */
import type { ApplianceAnalysis, EngagedState } from '#core/analysis/analysis';
import { stateBeside } from '#core/analysis/several-wires';
import type { Course, CoursePoint } from '#core/response/visits';
import { evaluateExpression } from '../expression/evaluate-expression';
import { memberLookup, type ResultSource } from '../expression/member';
import type { Place } from '../expression/place';
import { innerScope, lazily, type Scope, SILENT } from '../names/scope';
import type { EvaluatedAppliance } from '../resolved';
import { ownersOf, RESULTS } from '../results';

/** What the results of an appliance are read from. */
export type Results = Pick<EvaluatedAppliance, 'appliance' | 'further' | 'plan'> & {
  readonly analysis: ApplianceAnalysis;
};

/** `reasons` receives why something has no value. */
export function placeInState(
  { appliance, analysis, further }: Results,
  state: EngagedState,
  text: string,
  reasons: string[],
  /** Over visits: where on the course, and the course as a whole. */
  over: { readonly point?: CoursePoint; readonly course?: Course } = {},
): Place {
  const design = over.point?.design ?? appliance.design;
  const own = design && { design, analysis, state, ...over };
  const beside = (name: string) => {
    const wire = further.find((one) => one.name === name);
    const besideState = wire && stateBeside(wire, state.motion);
    if (!besideState) reasons.push(`${name} has no force system`);
    return besideState && { design: wire.design, analysis: wire.analysis, state: besideState };
  };
  const results: ResultSource = (owner, name, result, auxiliary) => {
    const source = auxiliary === undefined ? own : beside(auxiliary);
    if (!source) return undefined;
    const index = ownersOf(owner, source.design).findIndex((one) => one.name === name);
    return RESULTS[owner].get(result)?.get({ ...source, index });
  };
  const place: Place = {
    scope: scopeInState(appliance.scope, () => place),
    recorder: { ...SILENT, problem: ({ message }) => reasons.push(message) },
    text,
    member: memberLookup({
      wire: () => design,
      insideAppliance: true,
      results,
      auxiliary: ({ name }) => appliance.auxiliaries.find((one) => one.name === name)?.attachments,
    }),
  };
  return place;
}

/** Named values over results have their numbers only now. */
function scopeInState(scope: Scope, place: () => Place): Scope {
  const inState = innerScope(scope.parent);
  for (const [name, named] of scope.own) {
    const { node } = named.definition;
    const ofResults = node.kind === 'let' && named.value()?.ofResults;
    inState.own.set(
      name,
      ofResults
        ? {
            definition: named.definition,
            value: lazily(
              () => evaluateExpression(node.value, place()),
              () => {},
            ),
          }
        : named,
    );
  }
  return inState;
}
