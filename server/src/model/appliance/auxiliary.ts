/** Further wires of an appliance: each resolved as an appliance of its own, in reach of its main's values, and put in its place. */
import type { ApplianceDesign } from '#core/design';
import { add, addScaled, type Vec3 } from '#core/math/vector';
import { LENGTH } from '#core/units/dimension';
import type { ApplianceItem, Name } from '#grammar/tree';
import { auxiliaryMember } from '../diagnostics/auxiliary-member';
import { auxiliaryPlace } from '../diagnostics/auxiliary-place';
import { limitExceeded } from '../diagnostics/limit-exceeded';
import { unknownName } from '../diagnostics/unknown-name';
import { evaluateNumber } from '../expression/expectation';
import { memberLookup } from '../expression/member';
import type { Place } from '../expression/place';
import { findOfKind } from '../names/lookup';
import { nearest } from '../names/nearest';
import { type Recorder, SILENT } from '../names/scope';
import { directionVector } from '../path/directions';
import { FILE_LIMITS } from '../path/layout';
import type { Problem } from '../problem';
import type { Definition, Home, ResolvedAppliance } from '../resolved';
import { headOf } from './context';
import { directionsAt } from './directions-at';
import { resolveAppliance } from './resolve-appliance';

/**
 * The given appliances and variants with their auxiliaries, and the auxiliaries of appliances as entries of their own. Of a
 * variant's nothing is reported: its appliance's have been.
 */
export function withAuxiliaries(
  items: readonly ApplianceItem[],
  mains: readonly ResolvedAppliance[],
  home: Home,
  place: Place,
  reported: (uri: string, problem: Problem) => boolean,
): ResolvedAppliance[] {
  const bases = new Map(items.map((item) => [item, baseOf(item, place)] as const));
  for (const item of items) checkMembers(item, home, place.recorder);
  const belonging = mains.map((main) => {
    const recorder = main.variant ? SILENT : place.recorder;
    const all = items.filter((item) => bases.get(item)?.node === main.node);
    return withinLimit(all, main.name, recorder).map((item) => resolveAuxiliary(item, main, home, recorder, reported));
  });
  return mains.flatMap((main, k) => [
    belonging[k].length > 0 ? { ...main, auxiliaries: belonging[k] } : main,
    ...(main.variant ? [] : belonging[k]),
  ]);
}

function baseOf({ auxiliary }: ApplianceItem, place: Place): Definition | undefined {
  return auxiliary?.base && findOfKind('appliance', auxiliary.base, place);
}

/** Those beyond the limit are reported and left out. */
function withinLimit(items: readonly ApplianceItem[], main: string, recorder: Recorder): readonly ApplianceItem[] {
  const limit = FILE_LIMITS.auxiliaries;
  const first = items[limit];
  if (!first) return items;
  const what = `Auxiliary wires of "${main}"`;
  recorder.problem(limitExceeded.at(first.name?.span ?? first.span, what, items.length, limit));
  return items.slice(0, limit);
}

/** Lines that only a main wire has. */
const OF_MAINS: ReadonlySet<string> = new Set(['activation', 'trial', 'gauge', 'group', 'visits']);

/** An auxiliary is engaged and stays as it is while its appliance is activated. */
function checkMembers({ members }: ApplianceItem, home: Home, recorder: Recorder): void {
  for (const { kind, span } of members) {
    if (OF_MAINS.has(kind)) recorder.problem(auxiliaryMember.at(headOf(span, home.text)));
  }
}

function resolveAuxiliary(
  item: ApplianceItem,
  main: ResolvedAppliance,
  home: Home,
  recorder: Recorder,
  reported: (uri: string, problem: Problem) => boolean,
): ResolvedAppliance {
  const usable = {
    ...item,
    members: item.members.filter(({ kind }) => !OF_MAINS.has(kind)),
  };
  const resolved = resolveAppliance(usable, home, recorder, reported, { main });
  const { design } = resolved;
  const place = design && main.design && placeOf(item, design, main, home, recorder);
  return { ...resolved, node: item, design: place && moved(design, place) };
}

/** Of its first seat's nominal place in its appliance's frame, mm. Undefined where it is not said. */
function placeOf(
  { auxiliary, name }: ApplianceItem,
  design: ApplianceDesign,
  main: ResolvedAppliance,
  home: Home,
  recorder: Recorder,
): Vec3 | undefined {
  const attachments = main.design?.attachments ?? [];
  const at = auxiliary?.at;
  const wanted = at ? at.attachment?.text : design.attachments[0]?.name;
  const from = attachments.find((one) => one.name === wanted);
  if (!from) {
    const known = attachments.map((one) => one.name);
    if (at?.attachment)
      recorder.problem(
        unknownName.at(at.attachment.span, 'attachment', at.attachment.text, known, nearest(at.attachment.text, known)),
      );
    else if (name && !at) recorder.problem(auxiliaryPlace.at(name.span, main.name, known));
    return undefined;
  }
  if (at?.attachment) refer(at.attachment, main, recorder);
  let place: Vec3 | undefined = from.seatedWire.position;
  for (const { value, direction } of at?.offsets ?? []) {
    const distance = evaluateNumber(value, LENGTH, 'A distance', placeIn(main, home, recorder));
    const way = directionVector(direction, directionsAt(from, direction?.text ?? '', main.site), recorder);
    place = place && way && distance !== undefined ? addScaled(place, way, distance) : undefined;
  }
  return place;
}

function placeIn({ scope }: ResolvedAppliance, home: Home, recorder: Recorder): Place {
  const member = memberLookup({ wire: () => undefined, insideAppliance: true, results: undefined });
  return { scope, recorder, text: home.text, member };
}

function refer({ span, text }: Name, { attachments }: ResolvedAppliance, recorder: Recorder): void {
  const definition = attachments.find(({ name }) => name === text);
  if (definition) recorder.reference(span, definition);
}

function moved(design: ApplianceDesign, by: Vec3): ApplianceDesign {
  const { start, attachments } = design;
  return {
    ...design,
    start: { ...start, position: add(start.position, by) },
    attachments: attachments.map((one) => ({
      ...one,
      seatedWire: { ...one.seatedWire, position: add(one.seatedWire.position, by) },
    })),
  };
}
