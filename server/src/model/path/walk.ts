/** Walks a path or a part's body, step by step, and lays the wire out. */

import { NUMBER } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { FootStep, LetItem, MarkStep, PathItem, RepeatStep, SeatStep, Span } from '#grammar/tree';
import { duplicateName } from '../diagnostics/duplicate-name';
import { footOutsidePart } from '../diagnostics/foot-outside-part';
import { limitExceeded } from '../diagnostics/limit-exceeded';
import { repeatCount } from '../diagnostics/repeat-count';
import { seatWithoutAttachment } from '../diagnostics/seat-without-attachment';
import { evaluateExpression } from '../expression/evaluate-expression';
import { evaluateNumber } from '../expression/expectation';
import { newDefinition } from '../names/definition';
import { nearest } from '../names/nearest';
import { innerScope, problemsOnly } from '../names/scope';
import { walkCall } from './call';
import { walkChange } from './change';
import { walkFollow } from './follow';
import { walkHelix } from './helix';
import { type Layout, LIMITS, type Surroundings } from './layout';
import { walkBend, walkStraight, walkTwist } from './steps';
import { trace } from './trace';

export function walkBody(items: readonly PathItem[], layout: Layout, around: Surroundings): void {
  for (const item of items) {
    if (layout.stopped) return;
    layout.work += 1;
    if (layout.work > LIMITS.work || layout.elements.length > LIMITS.elements) {
      stop(layout, around, item.span);
      return;
    }
    walkItem(item, layout, { ...around, pathSpan: around.pathSpan ?? item.span });
  }
}

function walkItem(item: PathItem, layout: Layout, around: Surroundings): void {
  switch (item.kind) {
    case 'let':
      walkLet(item, layout, around);
      break;
    case 'straight':
      walkStraight(item, layout, around);
      break;
    case 'bend':
      walkBend(item, layout, around);
      break;
    case 'twist':
      walkTwist(item, layout, around);
      break;
    case 'helix':
      walkHelix(item, layout, around);
      break;
    case 'seat':
      walkSeat(item, layout, around);
      break;
    case 'mark':
      walkMark(item, layout, around);
      break;
    case 'foot':
      walkFoot(item, layout, around);
      break;
    case 'follow':
      walkFollow(item, layout, around);
      break;
    case 'change':
      walkChange(item, layout, around);
      break;
    case 'call':
      walkCall(item, layout, around, walkBody);
      break;
    case 'repeat':
      walkRepeat(item, layout, around);
      break;
  }
}

function walkLet(item: LetItem, layout: Layout, { place, home }: Surroundings): void {
  const value = evaluateExpression(item.value, place);
  if (!item.name) return;
  const definition = newDefinition('let', item.name, item, home, () => value);
  const existing = place.scope.own.get(item.name.text);
  if (existing && existing.definition.span.start !== item.name.span.start) {
    place.recorder.problem(duplicateName.at(item.name.span, item.name.text, existing.definition));
    return;
  }
  place.recorder.reference(item.name.span, definition);
  place.scope.own.set(item.name.text, { definition, value: () => value });
  if (!value) layout.complete = false;
}

function walkSeat(item: SeatStep, layout: Layout, around: Surroundings): void {
  const { attachment } = item;
  if (!attachment) return;
  const definition = around.attachments?.get(attachment.text);
  if (definition) around.place.recorder.reference(attachment.span, definition);
  else if (around.attachments) {
    const known = [...around.attachments.keys()];
    around.place.recorder.problem(
      seatWithoutAttachment.at(attachment.span, attachment.text, nearest(attachment.text, known)),
    );
    layout.complete = false;
  }
  trace(layout, around, { kind: 'seat', span: item.span, name: attachment.text });
  const span: Span = around.parts.length > 0 ? (around.pathSpan ?? item.span) : attachment.span;
  layout.seats.push({ name: attachment.text, span, station: layout.station, pose: layout.pose });
}

function walkMark(item: MarkStep, layout: Layout, around: Surroundings): void {
  if (!item.name) return;
  trace(layout, around, { kind: 'mark', span: item.span, name: item.name.text });
  layout.marks.push({ name: item.name.text, station: layout.station, span: item.name.span });
  if (around.parts.length > 0) return;
  around.outermost.define(newDefinition('mark', item.name, item, around.home));
}

function walkFoot(item: FootStep, layout: Layout, around: Surroundings): void {
  if (around.feet) around.feet.push(layout.station);
  else around.place.recorder.problem(footOutsidePart.at(item.span));
  trace(layout, around, { kind: 'foot', span: item.span });
}

function walkRepeat(item: RepeatStep, layout: Layout, around: Surroundings): void {
  const { place } = around;
  const count = evaluateNumber(item.count, NUMBER, 'How often a shape is repeated', place);
  if (item.count && count !== undefined && (!Number.isInteger(count) || count < 0)) {
    const shown = formatQuantity({ value: count, dimension: NUMBER });
    place.recorder.problem(repeatCount.at(item.count.span, shown));
  }
  if (item.count && count !== undefined && count > LIMITS.repetitions) {
    place.recorder.problem(limitExceeded.at(item.count.span, 'Repetitions', count, LIMITS.repetitions));
  }
  const usable = count !== undefined && Number.isInteger(count) && count >= 0 && count <= LIMITS.repetitions;
  if (!usable) layout.complete = false;
  // What cannot be repeated as often as meant is walked once, so that its own problems are found.
  const times = usable ? count : 1;
  for (let turn = 0; turn < times && !layout.stopped; turn++) {
    const recorder = turn === 0 ? place.recorder : problemsOnly(place.recorder);
    walkBody(item.body, layout, { ...around, place: { ...place, recorder, scope: innerScope(place.scope) } });
  }
}

function stop(layout: Layout, around: Surroundings, span: Span): void {
  layout.stopped = true;
  layout.complete = false;
  const pieces = layout.elements.length > LIMITS.elements;
  around.place.recorder.problem(
    pieces
      ? limitExceeded.at(span, 'Pieces of wire', layout.elements.length, LIMITS.elements)
      : limitExceeded.at(span, 'Steps of the path', layout.work, LIMITS.work),
  );
}
