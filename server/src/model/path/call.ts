/** A part put into the path: its arguments, its directions, its body. */
import { column, cross, scale } from '#core/math/vector';
import type { Argument, CallStep, PartItem, PathItem } from '#grammar/tree';
import { duplicateArgument } from '../diagnostics/duplicate-argument';
import { limitExceeded } from '../diagnostics/limit-exceeded';
import { partRecursion } from '../diagnostics/part-recursion';
import { unknownArgument } from '../diagnostics/unknown-argument';
import { evaluateExpression } from '../expression/evaluate-expression';
import { evaluateAs } from '../expression/expectation';
import { newDefinition } from '../names/definition';
import { findOfKind } from '../names/lookup';
import { nearest } from '../names/nearest';
import type { Definition } from '../resolved';
import { partDirections, turned } from './directions';
import { type Layout, LIMITS, type Surroundings } from './layout';
import { recorderInPart } from './part-recorder';
import { type GivenArgument, placeInPart } from './part-scope';

/** `walk` walks the part's body. */
export function walkCall(
  item: CallStep,
  layout: Layout,
  around: Surroundings,
  walk: (items: readonly PathItem[], layout: Layout, around: Surroundings) => void,
): void {
  const { place } = around;
  const part = item.part && findOfKind('part', item.part, place);
  if (!item.part || !part) {
    for (const argument of item.arguments) evaluateArgument(argument, undefined, around);
    leaveOut(layout);
    return;
  }
  const values = readArguments(item, part, around);
  if (around.parts.includes(part)) {
    const cycle = [...around.parts.slice(around.parts.indexOf(part)), part].map(({ name }) => name);
    place.recorder.problem(partRecursion.at(item.span, cycle));
    leaveOut(layout);
    return;
  }
  if (around.parts.length >= LIMITS.depth) {
    place.recorder.problem(limitExceeded.at(item.span, 'Parts inside parts', around.parts.length + 1, LIMITS.depth));
    leaveOut(layout);
    return;
  }
  const node = part.node as PartItem;
  const recorder = recorderInPart(part, around);
  const inside = placeInPart(part, values.given, layout.wire, recorder, place.recorder);
  const turning = turned(around.turning, item.flip, item.mirror);
  const entry = layout.pose;
  const feet: number[] = [];
  if (values.incomplete) layout.complete = false;
  walk(node.body, layout, {
    ...around,
    place: inside,
    home: part.home,
    directions: partDirections(entry, turning),
    turning,
    parts: [...around.parts, part],
    feet,
  });
  if (feet.length !== 2) return;
  const name = freeLoopName(item.label?.text ?? part.name, layout);
  const up = scale(column(entry.axes, 1), turning.up);
  const running = column(entry.axes, 0);
  const span = (around.parts.length === 0 ? undefined : around.pathSpan) ?? item.span;
  layout.loops.push({ name, span, feet: [feet[0], feet[1]], running, normal: cross(running, up) });
  if (around.parts.length > 0) return;
  around.outermost.define(
    newDefinition('loop', { text: name, span: (item.label ?? item.part).span }, item, around.home),
  );
}

/** Values of the arguments, checked against the parameters' dimensions; `incomplete` where one has no usable value. */
function readArguments(item: CallStep, part: Definition, around: Surroundings) {
  const given = new Map<string, GivenArgument>();
  let incomplete = false;
  const known = part.parameters.map(({ name }) => name);
  for (const argument of item.arguments) {
    const { name } = argument;
    if (!name) continue;
    const parameter = part.parameters.find((candidate) => candidate.name === name.text);
    if (!parameter) {
      const likely = nearest(name.text, known);
      around.place.recorder.problem(unknownArgument.at(name.span, name.text, part.name, known, likely));
      evaluateArgument(argument, undefined, around);
      continue;
    }
    around.place.recorder.reference(name.span, parameter);
    if (given.has(name.text)) {
      around.place.recorder.problem(duplicateArgument.at(name.span, name.text));
      continue;
    }
    const value = evaluateArgument(argument, parameter, around);
    if (!value) incomplete = true;
    given.set(name.text, { value, argument });
  }
  return { given, incomplete };
}

function evaluateArgument(argument: Argument, parameter: Definition | undefined, around: Surroundings) {
  const dimension = parameter?.dimension;
  if (dimension) return evaluateAs(argument.value, dimension, `The parameter "${parameter.name}"`, around.place);
  return evaluateExpression(argument.value, around.place);
}

function leaveOut(layout: Layout): void {
  layout.complete = false;
  layout.oriented = false;
}

/** Loops without a label of their own are told apart by number. */
function freeLoopName(name: string, layout: Layout): string {
  const taken = new Set(layout.loops.map((loop) => loop.name));
  if (!taken.has(name)) return name;
  let number = 2;
  while (taken.has(`${name}_${number}`)) number += 1;
  return `${name}_${number}`;
}
