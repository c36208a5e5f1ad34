/** Lays the wire along an arch form, with seats at places of the form or at its teeth. */
import type { Pose } from '#core/design';
import { type Arc, archArcs, biarc, type Heading, headingAt } from '#core/geometry/arch-arcs';
import { type ArchForm, betaArch, catenaryArch } from '#core/geometry/arch-form';
import { advance } from '#core/geometry/pose';
import { addScaled, applyTransposed, column, cross, dot, norm, scale, type Vec3, zeroVector } from '#core/math/vector';
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { ArchPlace, ArchSeat, FollowStep, Name, Span } from '#grammar/tree';
import { archForm } from '../diagnostics/arch-form';
import { seatWithoutAttachment } from '../diagnostics/seat-without-attachment';
import { toothNumber } from '../diagnostics/tooth-number';
import { unknownArgument } from '../diagnostics/unknown-argument';
import { evaluateNumber } from '../expression/expectation';
import { knownQuantity } from '../expression/value';
import { nearest } from '../names/nearest';
import { find } from '../names/scope';
import { sitePhrase, standsAt } from '../site';
import { neighbour, type Tooth, toothName, toothOf } from '../teeth';
import { positiveLength } from '../wire';
import { ARCH } from './directions';
import { append, type Holder, type Layout, type Surroundings } from './layout';
import { trace } from './trace';

export function walkFollow(item: FollowStep, layout: Layout, around: Surroundings): void {
  const { recorder } = around.place;
  const { site } = around.outermost;
  if (site?.kind === 'quadrant') {
    const message = `An arch form goes round the whole arch; this appliance sits ${sitePhrase(site)}. Write \`in ${site.arch} arch\` after its name.`;
    recorder.problem(archForm.at(item.curve?.span ?? item.span, message));
    leaveOut(layout);
    return;
  }
  const form = formOf(item, around);
  const from = placeOf(item.from, form, around);
  const to = placeOf(item.to, form, around);
  if (!form || from === undefined || to === undefined) {
    leaveOut(layout);
    return;
  }
  if (from === to) {
    recorder.problem(
      archForm.at(item.span, 'The arch form is followed from a place to the same place; no wire is laid out.'),
    );
    leaveOut(layout);
    return;
  }
  const backwards = to < from;
  if (!begin(item, headingAt(form, from, backwards), layout, around)) return;
  const sense = backwards ? -1 : 1;
  const seats = item.seats
    .flatMap((seat) => seatsOf(seat, item, form, from, to, layout, around))
    .sort((a, b) => sense * (a.distance - b.distance));
  // A stretch begins and ends at the edges of slots, which hold the wire straight along the form's direction.
  let edge = { distance: from, heading: headingAt(form, from, backwards), slot: false };
  const turnAxis = applyTransposed(layout.pose.axes, scale(around.directions.gingival, -1));
  const stretch = (next: typeof edge) => {
    lay(stretchArcs(form, edge, next, backwards), turnAxis, item.span, layout, around);
    edge = next;
  };
  for (const { distance, name, span, half } of seats) {
    const here = headingAt(form, distance, backwards);
    if (half === 0) stretch({ distance, heading: here, slot: false });
    else {
      stretch({ distance: distance - sense * half, heading: along(here, -half), slot: true });
      layStraight(half, item.span, layout, around);
    }
    trace(layout, around, { kind: 'seat', span, name });
    layout.seats.push({
      name,
      span: around.parts.length > 0 ? (around.pathSpan ?? span) : span,
      station: layout.station,
      pose: layout.pose,
    });
    if (half === 0) continue;
    layStraight(half, item.span, layout, around);
    edge = { distance: distance + sense * half, heading: along(here, half), slot: true };
  }
  if (sense * (to - edge.distance) > 0) {
    stretch({ distance: to, heading: headingAt(form, to, backwards), slot: false });
  }
}

interface Edge {
  readonly distance: number;
  readonly heading: Heading;
  readonly slot: boolean;
}

/** Beside a slot two arcs lead from its edge to the form, or from edge to edge; mm of the form that they take the place of. */
const BLEND = 8;

function stretchArcs(form: ArchForm, from: Edge, to: Edge, backwards: boolean): Arc[] {
  const length = Math.abs(to.distance - from.distance);
  if (length < 1e-9) return [];
  if (!from.slot && !to.slot) return archArcs(form, from.distance, to.distance);
  if (length <= 2 * BLEND) return biarc(from.heading, to.heading);
  const sense = backwards ? -1 : 1;
  const low = from.slot ? from.distance + sense * BLEND : from.distance;
  const high = to.slot ? to.distance - sense * BLEND : to.distance;
  return [
    ...(from.slot ? biarc(from.heading, headingAt(form, low, backwards)) : []),
    ...archArcs(form, low, high),
    ...(to.slot ? biarc(headingAt(form, high, backwards), to.heading) : []),
  ];
}

function along({ point: [x, y], angle }: Heading, distance: number): Heading {
  return { point: [x + distance * Math.cos(angle), y + distance * Math.sin(angle)], angle };
}

function lay(arcs: readonly Arc[], turnAxis: Vec3, span: Span, layout: Layout, around: Surroundings): void {
  const [from, first] = [layout.station, layout.elements.length];
  for (const { length, turn } of arcs) {
    const shape = scale(turnAxis, turn);
    append(layout, { length, shape, preactivation: zeroVector });
    layout.pose = advance(layout.pose, shape, length);
  }
  if (layout.elements.length === first) return;
  trace(layout, around, { kind: 'follow', span, from, to: layout.station, elements: [first, layout.elements.length] });
}

function layStraight(length: number, span: Span, layout: Layout, around: Surroundings): void {
  const [from, first] = [layout.station, layout.elements.length];
  append(layout, { length, shape: zeroVector, preactivation: zeroVector });
  layout.pose = advance(layout.pose, zeroVector, length);
  trace(layout, around, { kind: 'follow', span, from, to: layout.station, elements: [first, layout.elements.length] });
}

/** Lets a path that begins with the form begin on it; otherwise the wire has to run along it already. */
function begin(item: FollowStep, heading: Heading, layout: Layout, around: Surroundings): boolean {
  if (around.outermost.site === undefined) return true;
  const { recorder } = around.place;
  const tangent = addScaled(scale(ARCH.mesial, Math.cos(heading.angle)), ARCH.buccal, Math.sin(heading.angle));
  if (layout.steps.length === 0) {
    layout.start = { position: zeroVector, axes: frameOf(tangent) };
    layout.pose = layout.start;
    return true;
  }
  const off = Math.atan2(norm(cross(tangent, column(layout.pose.axes, 0))), dot(tangent, column(layout.pose.axes, 0)));
  if (!layout.oriented || off <= LARGEST_KINK) return true;
  const degrees = Math.round((off * 180) / Math.PI);
  const message = `The wire runs ${degrees}° away from the arch form where it is to follow it. Begin the path with \`follow\`, or bend the wire into its direction first.`;
  recorder.problem(archForm.at(item.curve?.span ?? item.span, message));
  leaveOut(layout);
  return false;
}

const LARGEST_KINK = Math.PI / 180;

function frameOf(tangent: Vec3): Pose['axes'] {
  const side = cross(tangent, ARCH.gingival);
  return [tangent[0], 0, side[0], tangent[1], 1, side[1], tangent[2], 0, side[2]];
}

/** The arch forms of the language, by name. */
export const ARCH_FORMS: ReadonlyMap<string, (width: number, depth: number) => ArchForm> = new Map([
  ['beta_arch', betaArch],
  ['catenary_arch', catenaryArch],
]);

export const ARCH_SIZES = ['width', 'depth'] as const;

function formOf(item: FollowStep, { place }: Surroundings): ArchForm | undefined {
  const { recorder } = place;
  const make = ARCH_FORMS.get(item.curve?.text ?? '');
  const names = [...ARCH_FORMS.keys()];
  if (item.curve && !make) {
    const fix = nearest(item.curve.text, names);
    recorder.problem(
      archForm.at(item.curve.span, `"${item.curve.text}" is no arch form. Write ${names.join(' or ')}.`, fix),
    );
  }
  const sizes = new Map<string, number>();
  for (const { name, value } of item.arguments) {
    if (!name) continue;
    if (!(ARCH_SIZES as readonly string[]).includes(name.text)) {
      const likely = nearest(name.text, ARCH_SIZES);
      recorder.problem(unknownArgument.at(name.span, name.text, item.curve?.text ?? 'follow', ARCH_SIZES, likely));
      continue;
    }
    const size = positiveLength(value, `The ${name.text} of an arch form`, place);
    if (size !== undefined) sizes.set(name.text, size);
  }
  const [width, depth] = ARCH_SIZES.map((size) => sizes.get(size));
  const given = item.arguments.flatMap(({ name }) => name?.text ?? []);
  const missing = ARCH_SIZES.filter((size) => !given.includes(size));
  if (make && item.curve && missing.length > 0) {
    const message = `${item.curve.text} needs its ${missing.join(' and ')}: \`${item.curve.text}(width = 55 mm, depth = 40 mm)\`.`;
    recorder.problem(archForm.at(item.curve.span, message));
  }
  return make && width !== undefined && depth !== undefined ? make(width, depth) : undefined;
}

/** Distance along the form from the midline, toward the patient's left. */
function placeOf(written: ArchPlace | undefined, form: ArchForm | undefined, around: Surroundings): number | undefined {
  if (!written) return undefined;
  const distance = written.kind === 'tooth' ? toothPlace(written.tooth, around) : sidePlace(written, around);
  if (distance === undefined || !form || Math.abs(distance) <= form.half + 1e-9) return distance;
  const shown = (value: number) => formatQuantity({ value, dimension: LENGTH });
  const message = `This place is ${shown(Math.abs(distance))} from the midline along the arch; the form ends at ${shown(form.half)}.`;
  around.place.recorder.problem(archForm.at(written.span, message));
  return undefined;
}

function sidePlace({ value, side }: Extract<ArchPlace, { kind: 'distance' }>, { place }: Surroundings) {
  const distance = evaluateNumber(value, LENGTH, 'A place along an arch form', place);
  if (!side) return undefined;
  if (side.text !== 'left' && side.text !== 'right') {
    const message = `Places along an arch form are counted from the midline to the patient's left or right, not "${side.text}".`;
    place.recorder.problem(archForm.at(side.span, message));
    return undefined;
  }
  return distance === undefined ? undefined : (side.text === 'left' ? 1 : -1) * distance;
}

function toothPlace(written: Name | undefined, around: Surroundings): number | undefined {
  if (!written) return undefined;
  const tooth = toothOf(written.text);
  const { site } = around.outermost;
  if (!tooth || (site && !standsAt(tooth, site))) {
    const where =
      tooth && site
        ? `stands in the ${tooth.arch} arch; this appliance sits ${sitePhrase(site)}`
        : 'is no permanent tooth (ISO 3950)';
    around.place.recorder.problem(toothNumber.at(written.span, `Tooth ${written.text} ${where}.`));
    return undefined;
  }
  return distanceOf(tooth, written.span, around);
}

/** Half a tooth's width and the widths of those between it and the midline: teeth in contact, without spaces. */
function distanceOf(tooth: Tooth, span: Span, { place }: Surroundings): number | undefined {
  let distance = 0;
  for (let position = 1; position <= tooth.position; position++) {
    const name = `${toothName(neighbour(tooth, position))}_width`;
    const width = knownQuantity(find(place.scope, name, ['let', 'parameter'])?.value());
    if (!width) {
      const message = `Where tooth ${tooth.number} stands follows from the widths of the teeth, but there is no value \`${name}\` here. Write \`use "teeth"\`, or a place such as \`30 mm left\`.`;
      place.recorder.problem(archForm.at(span, message));
      return undefined;
    }
    distance += position < tooth.position ? width.value : width.value / 2;
  }
  return tooth.side === 'left' ? distance : -distance;
}

interface PlacedSeat {
  readonly name: string;
  readonly span: Span;
  readonly distance: number;
  /** Half the length that the slot holds straight, mm. */
  readonly half: number;
}

function seatsOf(
  seat: ArchSeat,
  item: FollowStep,
  form: ArchForm,
  from: number,
  to: number,
  layout: Layout,
  around: Surroundings,
): PlacedSeat[] {
  const { holders, site } = around.outermost;
  const { recorder } = around.place;
  const within = (distance: number) => distance >= Math.min(from, to) - 1e-9 && distance <= Math.max(from, to) + 1e-9;
  const named = item.seats.flatMap(({ attachment }) => attachment?.text ?? []);
  if (!seat.attachment) {
    if (seat.place) return [];
    return [...holders].flatMap(([name, holder]): PlacedSeat[] => {
      const { tooth } = holder;
      if (!tooth || named.includes(name)) return [];
      const distance = distanceOf(tooth, seat.span, around);
      if (distance === undefined) layout.complete = false;
      if (distance === undefined || !within(distance)) return [];
      return [{ name, span: seat.span, distance, half: straightBeside(holder) }];
    });
  }
  const { text, span } = seat.attachment;
  const definition = around.attachments?.get(text);
  if (definition) recorder.reference(span, definition);
  else if (around.attachments) {
    recorder.problem(seatWithoutAttachment.at(span, text, nearest(text, [...around.attachments.keys()])));
    layout.complete = false;
  }
  const distance = placeOf(seat.place, form, around);
  if (distance === undefined) {
    layout.complete = false;
    return [];
  }
  if (!within(distance)) {
    if (site) {
      const message = `The seat of ${text} lies outside the stretch of the arch form that the wire follows here.`;
      recorder.problem(archForm.at(seat.place?.span ?? seat.span, message));
    }
    layout.complete = false;
    return [];
  }
  return [{ name: text, span, distance, half: straightBeside(holders.get(text)) }];
}

/** Straight wire on either side of a seat: within its slot, and as much beyond it as a wire that slides may bring in. */
function straightBeside(holder: Holder | undefined): number {
  if (!holder?.length) return 0;
  return holder.length / 2 + (holder.contact?.lengthwise === 'held' ? 0 : SLIDING_ROOM);
}

/** mm; levelling brackets that are some tenths of a millimetre off draws in less. */
const SLIDING_ROOM = 0.5;

function leaveOut(layout: Layout): void {
  layout.complete = false;
  layout.oriented = false;
}
