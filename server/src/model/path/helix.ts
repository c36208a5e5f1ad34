/** Helices: coils that the wire winds and stacks beside each other. */
import { helixElements } from '#core/geometry/helix';
import { advance } from '#core/geometry/pose';
import type { Vec3 } from '#core/math/vector';
import { LENGTH, NUMBER } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Expression, HelixStep } from '#grammar/tree';
import { helixSize } from '../diagnostics/helix-size';
import { limitExceeded } from '../diagnostics/limit-exceeded';
import { evaluateNumber } from '../expression/expectation';
import type { Place } from '../expression/place';
import { outerSection } from '../stock';
import { positiveLength, thicknessAlong } from '../wire';
import { directionVector } from './directions';
import { append, type Layout, LIMITS, type Surroundings } from './layout';
import { bendAxis, checkRadius, usualRadius } from './steps';
import { trace } from './trace';

export function walkHelix(item: HelixStep, layout: Layout, around: Surroundings): void {
  const { place } = around;
  const turns = turnsOf(item.turns, place);
  const diameter = positiveLength(item.diameter, 'The diameter of a helix', place);
  const direction = directionVector(item.direction, around.directions, place.recorder);
  const axis = direction && bendAxis(item, direction, layout, around);
  const pitch = axis && pitchOf(item, axis, turns, diameter, layout, place);
  if (turns === undefined || diameter === undefined || !axis || pitch === undefined) {
    layout.complete = false;
    layout.oriented = false;
    return;
  }
  const usual = usualRadius(axis, layout);
  if (item.diameter && usual) checkRadius(diameter / 2, usual, item.diameter.span, place);
  const from = layout.station;
  const first = layout.elements.length;
  // Seen in a mirror, a right-handed helix is a left-handed one.
  const handed = around.turning.up * around.turning.side;
  for (const element of helixElements(axis, { diameter, turns, pitch: handed * pitch })) {
    append(layout, { ...element, forming: { furthest: 1 } });
    layout.pose = advance(layout.pose, element.shape, element.length);
  }
  trace(layout, around, {
    kind: 'helix',
    span: item.span,
    from,
    to: layout.station,
    angle: 2 * Math.PI * turns,
    radius: diameter / 2,
    pitch,
    direction: item.direction?.text,
    elements: [first, layout.elements.length],
  });
}

function turnsOf(expression: Expression | undefined, place: Place): number | undefined {
  const turns = evaluateNumber(expression, NUMBER, 'The turns of a helix', place);
  if (!expression || turns === undefined) return undefined;
  if (turns > LIMITS.turns) {
    place.recorder.problem(limitExceeded.at(expression.span, 'Turns of a helix', turns, LIMITS.turns));
    return undefined;
  }
  if (turns > 0) return turns;
  const shown = formatQuantity({ value: turns, dimension: NUMBER });
  place.recorder.problem(helixSize.at(expression.span, `A helix winds more than 0 turns, not ${shown}.`));
  return undefined;
}

/** As written, or the wire's own size along the helix' axis, so that the coils lie beside each other. */
function pitchOf(
  item: HelixStep,
  [, up, side]: Vec3,
  turns: number | undefined,
  diameter: number | undefined,
  { wire }: Layout,
  place: Place,
): number | undefined {
  const beside = wire && thicknessAlong(outerSection({ count: 1, ...wire }), up, side);
  if (!item.pitch) return beside;
  const pitch = evaluateNumber(item.pitch, LENGTH, 'The pitch of a helix', place);
  if (pitch === undefined || diameter === undefined) return undefined;
  const length = (value: number) => formatQuantity({ value, dimension: LENGTH });
  const size = Math.abs(pitch);
  if (beside !== undefined && turns !== undefined && turns > 1 && size > 0 && size < beside * (1 - 1e-9)) {
    const message = `The coils cut into each other: the pitch is ${length(pitch)}, the wire takes ${length(beside)} beside itself.`;
    place.recorder.problem(helixSize.at(item.pitch.span, message));
    return undefined;
  }
  if (size <= diameter) return pitch;
  const message = `The pitch of a helix is at most its diameter, ${length(diameter)}, either way; it is ${length(pitch)}.`;
  place.recorder.problem(helixSize.at(item.pitch.span, message));
  return undefined;
}
