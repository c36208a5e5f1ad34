/** The names inside a part: its parameters with the values of a call, over those of the part's own file. */
import type { Argument, PartItem } from '#grammar/tree';
import { circularValue } from '../diagnostics/circular-value';
import { valuesTooDeep } from '../diagnostics/limit-exceeded';
import { evaluateExpression } from '../expression/evaluate-expression';
import { memberLookup } from '../expression/member';
import type { Place } from '../expression/place';
import type { Value } from '../expression/value';
import { innerScope, lazily, type Recorder } from '../names/scope';
import { checkRange } from '../range';
import type { Definition } from '../resolved';
import type { Wire } from '../wire';

export interface GivenArgument {
  readonly value: Value | undefined;
  readonly argument: Argument;
}

/** The place inside a part's body; ranges of its parameters are checked on the way. */
export function placeInPart(
  part: Definition,
  given: ReadonlyMap<string, GivenArgument>,
  wire: Wire | undefined,
  recorder: Recorder,
  caller: Recorder,
): Place {
  const scope = innerScope(part.home.scope);
  const member = memberLookup({ wire: () => wire, insideAppliance: true, results: undefined });
  const place: Place = { scope, recorder, text: part.home.text, member };
  const { parameters } = part.node as PartItem;
  for (const parameter of parameters) {
    const definition = part.parameters.find(({ node }) => node === parameter);
    if (!definition) continue;
    const argument = given.get(definition.name);
    const value = lazily(
      () => (argument ? argument.value : evaluateExpression(parameter.value, place)),
      () => recorder.problem(circularValue.at(definition.span, [definition.name, definition.name])),
      () => recorder.problem(valuesTooDeep(definition.span)),
    );
    scope.own.set(definition.name, { definition, value });
  }
  for (const [name, named] of scope.own) {
    const value = named.value();
    const { range } = parameters.find((parameter) => parameter === named.definition.node) ?? {};
    if (value?.kind !== 'quantity') continue;
    const bounds = checkRange(range, value.dimension, place);
    if (value.value === undefined || !bounds) continue;
    const argument = given.get(name)?.argument;
    // A value given by the caller is the caller's to mend.
    if (argument) bounds.check(name, value.value, argument.span, caller);
    else bounds.check(name, value.value, named.definition.span);
  }
  return place;
}
