/** Requirements: their stage and, before any result is known, the dimensions of their conditions. */
import { dimensionPhrase, LENGTH } from '#core/units/dimension';
import type { RequireMember } from '#grammar/tree';
import { activationNotDeclared } from '../diagnostics/activation-not-declared';
import { conditionExpected } from '../diagnostics/condition-expected';
import { visitsNotDeclared } from '../diagnostics/visits-not-declared';
import { evaluateExpression } from '../expression/evaluate-expression';
import { evaluateNumber } from '../expression/expectation';
import { usualUnit } from '../expression/mismatch';
import { quote } from '../expression/place';
import type { ResolvedRequirement } from '../resolved';
import { type ApplianceContext, headOf } from './context';

export function resolveRequirement(
  node: RequireMember,
  declared: { readonly activation: boolean; readonly visits: boolean },
  { shape, results, recorder, home }: ApplianceContext,
): ResolvedRequirement | undefined {
  for (const { test } of node.conditions) {
    const value = evaluateExpression(test, results);
    if (test && value?.kind === 'quantity') {
      const text = quote(test, results);
      recorder.problem(
        conditionExpected.at(test.span, text, dimensionPhrase(value.dimension), usualUnit(value.dimension)),
      );
    }
  }
  const { stage } = node;
  const activation = evaluateNumber(node.activation, LENGTH, 'The activation of a requirement', shape);
  if (!stage) return undefined;
  if (stage === 'visits' && !declared.visits) {
    recorder.problem(visitsNotDeclared.at(headOf(node.span, home.text)));
    return undefined;
  }
  if (stage !== 'engaged' && stage !== 'visits' && !declared.activation) {
    recorder.problem(activationNotDeclared.at(headOf(node.span, home.text)));
    return undefined;
  }
  if (stage === 'at' && activation === undefined) return undefined;
  return { node, stage, activation: stage === 'at' ? activation : undefined };
}
