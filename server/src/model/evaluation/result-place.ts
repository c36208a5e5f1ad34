/** Where expressions are evaluated with the results of one state. */
import type { ApplianceAnalysis, EngagedState } from '#core/analysis/analysis';
import { evaluateExpression } from '../expression/evaluate-expression';
import { memberLookup, type ResultSource } from '../expression/member';
import type { Place } from '../expression/place';
import { innerScope, lazily, type Scope, SILENT } from '../names/scope';
import type { ResolvedAppliance } from '../resolved';
import { ownersOf, RESULTS } from '../results';

/** `reasons` receives why something has no value. */
export function placeInState(
  appliance: ResolvedAppliance,
  analysis: ApplianceAnalysis,
  state: EngagedState,
  text: string,
  reasons: string[],
): Place {
  const { design } = appliance;
  const results: ResultSource = (owner, name, result) => {
    if (!design) return undefined;
    const index = ownersOf(owner, design).findIndex((one) => one.name === name);
    return RESULTS[owner].get(result)?.get({ design, analysis, state, index });
  };
  const place: Place = {
    scope: scopeInState(appliance.scope, () => place),
    recorder: { ...SILENT, problem: ({ message }) => reasons.push(message) },
    text,
    member: memberLookup({ wire: () => design, insideAppliance: true, results }),
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
