/** Variants: an appliance resolved again with other values of some of its parameters. */
import type { ApplianceItem, Argument, Span, VariantItem } from '#grammar/tree';
import { duplicateArgument } from '../diagnostics/duplicate-argument';
import { unknownArgument } from '../diagnostics/unknown-argument';
import { evaluateExpression } from '../expression/evaluate-expression';
import { evaluateAs } from '../expression/expectation';
import type { Place } from '../expression/place';
import { findOfKind } from '../names/lookup';
import { nearest } from '../names/nearest';
import type { Recorder } from '../names/scope';
import type { GivenArgument } from '../path/part-scope';
import type { Problem } from '../problem';
import type { Home, ResolvedAppliance } from '../resolved';
import { resolveAppliance } from './resolve-appliance';

/** Undefined where the appliance that it varies is not known. `bases` are the appliances of the file. */
export function resolveVariant(
  item: VariantItem,
  bases: readonly ResolvedAppliance[],
  home: Home,
  place: Place,
  reported: (uri: string, problem: Problem) => boolean,
): ResolvedAppliance | undefined {
  const definition = item.base && findOfKind('appliance', item.base, place);
  const base = definition && bases.find(({ node }) => node === definition.node);
  const given = readValues(item, base, place);
  if (!base) return undefined;
  const recorder = recorderInVariant(item, home, place.recorder, reported);
  return resolveAppliance(base.node as ApplianceItem, home, recorder, reported, { variant: { item, given } });
}

function readValues(
  item: VariantItem,
  base: ResolvedAppliance | undefined,
  place: Place,
): ReadonlyMap<string, GivenArgument> {
  const given = new Map<string, GivenArgument>();
  const known = base?.parameters.map(({ name }) => name) ?? [];
  for (const argument of item.values) {
    const { name } = argument;
    if (!name) continue;
    if (!base || !known.includes(name.text)) {
      evaluateExpression(argument.value, place);
      if (base) {
        const likely = nearest(name.text, known);
        place.recorder.problem(unknownArgument.at(name.span, name.text, base.name, known, likely));
      }
    } else if (given.has(name.text)) {
      place.recorder.problem(duplicateArgument.at(name.span, name.text));
    } else {
      given.set(name.text, { value: argumentValue(argument, base, name.text, place), argument });
    }
  }
  return given;
}

function argumentValue(argument: Argument, base: ResolvedAppliance, name: string, place: Place) {
  const definition = base.scope.own.get(name)?.definition;
  if (definition && argument.name) place.recorder.reference(argument.name.span, definition);
  const dimension = definition?.dimension;
  if (dimension) return evaluateAs(argument.value, dimension, `The parameter "${name}"`, place);
  return evaluateExpression(argument.value, place);
}

/** What is wrong with the appliance itself was reported there; what only this variant gets wrong is told at its name. */
function recorderInVariant(
  item: VariantItem,
  { uri }: Home,
  recorder: Recorder,
  reported: (uri: string, problem: Problem) => boolean,
): Recorder {
  const inside = ({ start, end }: Span) => start >= item.span.start && end <= item.span.end;
  return {
    problem(problem) {
      if (inside(problem.span)) recorder.problem(problem);
      else if (!reported(uri, problem)) recorder.problem(atVariant(problem, item, uri));
    },
    reference(span, definition) {
      if (inside(span)) recorder.reference(span, definition);
    },
    evaluated(span, value) {
      if (inside(span)) recorder.evaluated(span, value);
    },
  };
}

/** A finding in the appliance's body as one of the variant, with the place that it is about. */
export function atVariant(problem: Problem, item: VariantItem, uri: string): Problem {
  const { code, severity, message, hint } = problem;
  return {
    code,
    severity,
    hint,
    span: item.name?.span ?? item.span,
    message: `With the values of this variant: ${message}`,
    related: [...(problem.related ?? []), { uri, span: problem.span, message: 'It is about this line.' }],
  };
}
