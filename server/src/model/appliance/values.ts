/** Named values and parameters of an appliance: order does not matter. */
import type { LetItem, Parameter } from '#grammar/tree';
import { circularValue } from '../diagnostics/circular-value';
import { valuesTooDeep } from '../diagnostics/limit-exceeded';
import { quantityExpected } from '../diagnostics/quantity-expected';
import { resultInShape } from '../diagnostics/result-in-shape';
import { evaluateExpression } from '../expression/evaluate-expression';
import { type Place, quote } from '../expression/place';
import { knownQuantity, type Value } from '../expression/value';
import { newDefinition } from '../names/definition';
import { LONGEST_CHAIN, lazily, type Named, type Scope } from '../names/scope';
import type { GivenArgument } from '../path/part-scope';
import { checkRange } from '../range';
import type { Home, ResolvedParameter } from '../resolved';

/** A name whose value is worked out when first asked for. */
export function lazyNamed(
  node: LetItem | Parameter,
  home: Home,
  place: () => Place,
  given: ReadonlyMap<string, GivenArgument> = new Map(),
): Named | undefined {
  const { name } = node;
  if (!name) return undefined;
  const kind = node.kind === 'let' ? 'let' : 'parameter';
  const argument = kind === 'parameter' ? given.get(name.text) : undefined;
  if (argument) {
    const value = () => argument.value;
    return { definition: newDefinition(kind, name, node, home, value), value };
  }
  const value = lazily<Value>(
    () => {
      const result = evaluateExpression(node.value, place());
      if (result?.kind !== 'truth' || !node.value) return result;
      place().recorder.problem(quantityExpected.at(node.value.span, `The value of "${name.text}"`));
      return undefined;
    },
    () => place().recorder.problem(circularValue.at(name.span, circleOf(name.text, place().scope))),
    () => place().recorder.problem(valuesTooDeep(name.span)),
  );
  return { definition: newDefinition(kind, name, node, home, value), value };
}

/** The parameters of an appliance with their values and ranges. */
export function resolveParameters(
  nodes: readonly Parameter[],
  given: ReadonlyMap<string, GivenArgument>,
  place: Place,
): ResolvedParameter[] {
  return nodes.flatMap((node) => {
    if (!node.name) return [];
    const named = place.scope.own.get(node.name.text);
    const value = named?.definition.node === node ? named.value() : undefined;
    const argument = given.get(node.name.text)?.argument;
    const written = argument?.value ?? node.value;
    if (written && value?.ofResults) {
      place.recorder.problem(resultInShape.at(written.span, quote(written, place)));
    }
    const quantity = knownQuantity(value);
    const range = quantity && checkRange(node.range, quantity.dimension, place);
    if (range && written) range.check(node.name.text, quantity.value, written.span);
    return [{ name: node.name.text, node, value: quantity, range: range && { low: range.low, high: range.high } }];
  });
}

/** Follows named values from one back to itself. */
function circleOf(name: string, scope: Scope): string[] {
  // Each name is followed once: names that all lead to each other have more ways than can be gone.
  const seen = new Set<string>();
  const visit = (current: string, chain: readonly string[]): string[] | undefined => {
    const node = scope.own.get(current)?.definition.node;
    if (node?.kind !== 'let' && node?.kind !== 'parameter') return undefined;
    for (const next of namesIn(node.value)) {
      if (next === name) return [...chain, next];
      if (seen.has(next) || chain.length > LONGEST_CHAIN) continue;
      seen.add(next);
      const found = visit(next, [...chain, next]);
      if (found) return found;
    }
    return undefined;
  };
  return visit(name, [name]) ?? [name, name];
}

function namesIn(expression: LetItem['value']): string[] {
  if (!expression) return [];
  switch (expression.kind) {
    case 'name':
      return [expression.name.text];
    case 'group':
      return namesIn(expression.inner);
    case 'unary':
      return namesIn(expression.operand);
    case 'binary':
      return [...namesIn(expression.left), ...namesIn(expression.right)];
    case 'function':
      return expression.arguments.flatMap((argument) => namesIn(argument));
    default:
      return [];
  }
}
