/** Parts: their definitions, and a look at each by itself, with its parameters' usual values. */

import { identityMatrix, zeroVector } from '#core/math/vector';
import type { PartItem } from '#grammar/tree';
import { duplicateName } from './diagnostics/duplicate-name';
import { feetCount } from './diagnostics/feet-count';
import { evaluateExpression } from './expression/evaluate-expression';
import { newDefinition } from './names/definition';
import { lazily, type Recorder, SILENT } from './names/scope';
import { partDirections, UPRIGHT } from './path/directions';
import { newLayout } from './path/layout';
import { placeInPart } from './path/part-scope';
import { walkBody } from './path/walk';
import type { Definition, Home } from './resolved';

export function partDefinition(node: PartItem, home: Home): Definition | undefined {
  if (!node.name) return undefined;
  const parameters: Definition[] = [];
  const part = newDefinition('part', node.name, node, home, undefined, parameters);
  for (const parameter of node.parameters) {
    if (!parameter.name || parameters.some(({ name }) => name === parameter.name?.text)) continue;
    const value = lazily(
      () => evaluateExpression(parameter.value, placeInPart(part, new Map(), undefined, SILENT, SILENT)),
      () => {},
    );
    parameters.push(newDefinition('parameter', parameter.name, parameter, home, value));
  }
  return part;
}

/** Finds what is wrong with the part itself; problems and uses of names go to the recorder. Yields the steps walked. */
export function checkPart(part: Definition, recorder: Recorder): number {
  const node = part.node as PartItem;
  // Inside a part an expression has no one value.
  const inPart: Recorder = { ...recorder, evaluated: SILENT.evaluated };
  const seen = new Map<string, Definition>();
  for (const parameter of node.parameters) {
    if (!parameter.name) continue;
    const definition = part.parameters.find((candidate) => candidate.node === parameter);
    const first = seen.get(parameter.name.text);
    if (first) recorder.problem(duplicateName.at(parameter.name.span, parameter.name.text, first));
    if (!definition) continue;
    seen.set(definition.name, definition);
    recorder.reference(definition.span, definition);
  }
  const start = { position: zeroVector, axes: identityMatrix };
  const feet: number[] = [];
  const layout = newLayout(start, undefined, new Set());
  walkBody(node.body, layout, {
    place: placeInPart(part, new Map(), undefined, inPart, inPart),
    home: part.home,
    directions: partDirections(start, UPRIGHT),
    turning: UPRIGHT,
    pathSpan: undefined,
    parts: [part],
    feet,
    attachments: undefined,
    outermost: { recorder, kind: 'part', site: undefined, holders: new Map(), define() {}, reported: () => false },
  });
  if (feet.length !== 0 && feet.length !== 2) recorder.problem(feetCount.at(part.span, part.name, feet.length));
  return layout.work;
}
