/** Straights, bends and twists: the steps that use wire. */

import { advance } from '#core/geometry/pose';
import type { Vec3 } from '#core/math/vector';
import { applyTransposed, column, cross, dot, norm, scale, zeroVector } from '#core/math/vector';
import { ANGLE, LENGTH, NUMBER } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { BendStep, Expression, HelixStep, Span, StraightStep, TwistStep } from '#grammar/tree';
import { bendAlongWire } from '../diagnostics/bend-along-wire';
import { bendRadiusTooSmall } from '../diagnostics/bend-radius-too-small';
import { bentBackTooLittle } from '../diagnostics/bent-back-too-little';
import { evaluateNumber } from '../expression/expectation';
import type { Place } from '../expression/place';
import { lengthFromZero, positiveLength, thicknessAlong, usualBendRadius } from '../wire';
import { directionVector, vectorOf } from './directions';
import { append, type Layout, type Surroundings } from './layout';
import { trace } from './trace';

/** A direction closer to the wire than this names no plane to bend in (language note). */
const LEAST_SINE = Math.sin((5 * Math.PI) / 180);

/** Of a bend by nothing: any axis square to the wire. */
const NO_AXIS: Vec3 = [0, 0, 1];

export function walkStraight(item: StraightStep, layout: Layout, around: Surroundings): void {
  const length = lengthFromZero(item.length, 'The length of a straight', around.place);
  if (length === undefined) {
    layout.complete = false;
    return;
  }
  const from = layout.station;
  const first = layout.elements.length;
  append(layout, { length, shape: zeroVector, preactivation: zeroVector });
  layout.pose = advance(layout.pose, zeroVector, length);
  trace(layout, around, {
    kind: 'straight',
    span: item.span,
    from,
    to: layout.station,
    elements: [first, layout.elements.length],
  });
}

export function walkBend(item: BendStep, layout: Layout, around: Surroundings): void {
  const { place } = around;
  const preactivation = item.preactivation || layout.asPreactivation.has(item);
  const angle = evaluateNumber(item.angle, ANGLE, 'The angle of a bend', place);
  const direction = directionVector(item.direction, around.directions, place.recorder);
  const given = item.radius ? lengthFromZero(item.radius, 'The radius of a bend', place) : undefined;
  // A bend by nothing, as formulas yield at the end of a range, is no bend and needs no plane.
  const axis = angle === 0 ? NO_AXIS : direction && bendAxis(item, direction, layout, around);
  if (angle === undefined || !axis || (item.radius && given === undefined)) {
    layout.complete = false;
    if (!preactivation) layout.oriented = false;
    return;
  }
  const usual = usualRadius(axis, layout);
  if (given === undefined && usual === undefined) layout.complete = false;
  const radius = given ?? usual?.radius ?? 0;
  if (item.radius && usual) checkRadius(radius, usual, item.radius.span, place);
  const backFrom = item.backFrom && furtherAngle(item.backFrom, angle, place);
  const turn = scale(axis, angle);
  const length = radius * Math.abs(angle);
  const from = layout.station;
  const first = layout.elements.length;
  append(layout, {
    length,
    shape: preactivation ? zeroVector : turn,
    preactivation: preactivation ? turn : zeroVector,
    forming: { furthest: backFrom ? backFrom / angle : 1 },
  });
  layout.pose = advance(layout.pose, preactivation ? zeroVector : turn, length);
  trace(layout, around, {
    kind: item.preactivation ? 'preactivate' : 'bend',
    span: item.span,
    from,
    to: layout.station,
    angle,
    radius,
    ...(backFrom && { backFrom }),
    direction: item.direction?.text,
    elements: [first, layout.elements.length],
  });
}

/** What a bend is first bent to, rad; undefined where that is not further than the bend itself. */
function furtherAngle(item: Expression, angle: number, place: Place): number | undefined {
  const first = evaluateNumber(item, ANGLE, 'The angle that a bend is bent back from', place);
  if (first === undefined || angle === 0) return undefined;
  if (first / angle > 1) return first;
  const degrees = (value: number) => formatQuantity({ value, dimension: ANGLE });
  place.recorder.problem(bentBackTooLittle.at(item.span, degrees(first), degrees(angle)));
  return undefined;
}

export function walkTwist(item: TwistStep, layout: Layout, around: Surroundings): void {
  const angle = evaluateNumber(item.angle, ANGLE, 'The angle of a twist', around.place);
  const length = positiveLength(item.over, 'The length over which the wire is twisted', around.place);
  if (angle === undefined || length === undefined) {
    layout.complete = false;
    return;
  }
  const from = layout.station;
  const first = layout.elements.length;
  // Seen in a mirror, a right-hand turn about the wire is a left-hand one.
  const handed = around.turning.up * around.turning.side;
  append(layout, { length, shape: zeroVector, preactivation: [handed * angle, 0, 0] });
  layout.pose = advance(layout.pose, zeroVector, length);
  trace(layout, around, {
    kind: 'twist',
    span: item.span,
    from,
    to: layout.station,
    angle,
    elements: [first, layout.elements.length],
  });
}

/** Unit axis (nominal tangent × direction) in the nominal section frame. */
export function bendAxis(
  item: BendStep | HelixStep,
  direction: Vec3,
  layout: Layout,
  around: Surroundings,
): Vec3 | undefined {
  const tangent = column(layout.pose.axes, 0);
  const axis = cross(tangent, direction);
  const sine = norm(axis);
  if (sine >= LEAST_SINE) return applyTransposed(layout.pose.axes, scale(axis, 1 / sine));
  if (layout.oriented && item.direction) {
    const choices = around.directions.words.filter((word) => {
      const vector = vectorOf(word, around.directions);
      return vector !== undefined && norm(cross(tangent, vector)) >= LEAST_SINE;
    });
    const alongIt = dot(tangent, direction) > 0;
    around.place.recorder.problem(bendAlongWire.at(item.direction.span, item.direction.text, alongIt, choices));
  }
  return undefined;
}

/** Reports a radius that the wire does not stand. */
export function checkRadius(radius: number, usual: UsualRadius, span: Span, { recorder }: Place): void {
  if (!(radius > 0 && radius < usual.radius * (1 - 1e-9))) return;
  const length = (value: number) => formatQuantity({ value, dimension: LENGTH });
  const times = formatQuantity({ value: usual.times, dimension: NUMBER });
  recorder.problem(bendRadiusTooSmall.at(span, length(radius), length(usual.radius), times));
}

export interface UsualRadius {
  /** To the centre line, mm. */
  readonly radius: number;
  /** The same in thicknesses. */
  readonly times: number;
}

/** The usual radius of a bend about an axis of the section frame, and how many thicknesses it is. */
export function usualRadius(axis: Vec3, { wire }: Layout): UsualRadius | undefined {
  if (!wire) return undefined;
  // The wire turns toward axis × tangent.
  const [, up, side] = cross(axis, [1, 0, 0]);
  const thickness = thicknessAlong(wire.section, up, side);
  return { radius: usualBendRadius(wire.alloy, thickness), times: wire.alloy.smallestInnerRadius + 0.5 };
}
