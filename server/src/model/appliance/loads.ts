/** Elastics, coil springs and ligatures: between which places they pull, and how hard. */
import type { Attachment, Load, LoadPlace } from '#core/design';
import { FORCE, LENGTH, STIFFNESS } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { Expression, LoadMember, Name } from '#grammar/tree';
import { loadEnds } from '../diagnostics/load-ends';
import { loadSize } from '../diagnostics/load-size';
import { unknownName } from '../diagnostics/unknown-name';
import { wrongKindOfName } from '../diagnostics/wrong-kind-of-name';
import { evaluateNumber } from '../expression/expectation';
import { kindPhrase, type Place } from '../expression/place';
import { newDefinition } from '../names/definition';
import { nearest } from '../names/nearest';
import { find, namesInReach } from '../names/scope';
import type { Layout } from '../path/layout';
import type { Definition } from '../resolved';
import { type ApplianceContext, membersOf } from './context';

/** The names of loads, for results over them. */
export function defineLoads(context: ApplianceContext): void {
  for (const node of membersOf(context.node, 'load')) {
    if (node.name) context.define(newDefinition('load', node.name, node, context.home));
  }
}

/** Those that can be made out, in written order. `placed` are in order along the wire. */
export function resolveLoads(
  context: ApplianceContext,
  placed: readonly Attachment[],
  layout: Layout | undefined,
): Load[] {
  return membersOf(context.node, 'load').flatMap((node) => resolveLoad(node, placed, layout, context.shape) ?? []);
}

function resolveLoad(
  node: LoadMember,
  placed: readonly Attachment[],
  layout: Layout | undefined,
  place: Place,
): Load | undefined {
  const law = lawOf(node, place);
  const ends = [node.from, node.to].map((name) => name && findEnd(name, place));
  const [from, to] = ends.map((end) => end && placeOf(end, placed, layout));
  if (!from || !to || !node.from || !node.to) return undefined;
  if (Math.abs(stationOf(from, placed) - stationOf(to, placed)) < SAME_PLACE) {
    place.recorder.problem(loadEnds.at(node.to.span, PHRASE[node.fitting], node.from.text, node.to.text));
    return undefined;
  }
  return law && { name: node.name?.text, kind: node.fitting, from, to, law };
}

/** mm along the wire */
const SAME_PLACE = 1e-9;

const PHRASE: Readonly<Record<LoadMember['fitting'], string>> = {
  elastic: 'elastic',
  coil: 'coil spring',
  ligature: 'ligature',
};

const ENDS: readonly Definition['kind'][] = ['attachment', 'mark'];

function findEnd(name: Name, { scope, recorder }: Place): Definition | undefined {
  const definition = find(scope, name.text, ENDS)?.definition;
  if (!definition) {
    const known = namesInReach(scope, ENDS);
    recorder.problem(unknownName.at(name.span, 'attachment or mark', name.text, known, nearest(name.text, known)));
    return undefined;
  }
  recorder.reference(name.span, definition);
  if (ENDS.includes(definition.kind)) return definition;
  recorder.problem(
    wrongKindOfName.at(name.span, name.text, kindPhrase(definition.kind), 'an attachment or a mark of the path'),
  );
  return undefined;
}

/** Undefined where the path does not reach it. */
function placeOf(end: Definition, placed: readonly Attachment[], layout: Layout | undefined): LoadPlace | undefined {
  if (end.kind === 'mark') {
    const mark = layout?.marks.find(({ span }) => span.start === end.span.start);
    return mark && { on: 'wire', station: mark.station };
  }
  const attachment = placed.findIndex(({ name }) => name === end.name);
  return attachment < 0 ? undefined : { on: 'attachment', attachment };
}

function stationOf(place: LoadPlace, placed: readonly Attachment[]): number {
  return place.on === 'wire' ? place.station : placed[place.attachment].station;
}

function lawOf({ fitting, law }: LoadMember, place: Place): Load['law'] | undefined {
  if (!law) return undefined;
  const size = (expression: Expression | undefined, dimension: Dimension, what: string, zeroAllowed: boolean) => {
    const value = evaluateNumber(expression, dimension, what, place);
    if (!expression || value === undefined || value > 0 || (zeroAllowed && value === 0)) return value;
    place.recorder.problem(loadSize.at(expression.span, what, formatQuantity({ value, dimension }), zeroAllowed));
    return undefined;
  };
  const phrase = PHRASE[fitting];
  if (law.kind === 'force') {
    const force = size(law.force, FORCE, `The force of the ${phrase}`, false);
    return force === undefined ? undefined : { kind: 'constant', force };
  }
  const rate = size(law.rate, STIFFNESS, `The rate of the ${phrase}`, false);
  const rest = size(law.rest, LENGTH, `The length at rest of the ${phrase}`, true);
  return rate === undefined || rest === undefined ? undefined : { kind: 'rate', rate, rest };
}
