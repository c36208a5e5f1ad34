/** Attachments: their slots, and the poses in which they hold the wire. */
import type { Attachment, Pose, Stock } from '#core/design';
import { sectionProperties } from '#core/material/section';
import { handedness, rotationMatrix } from '#core/math/rotation';
import {
  add,
  addScaled,
  apply,
  column,
  cross,
  identityMatrix,
  type Mat3,
  multiply,
  norm,
  subtract,
  type Vec3,
  zeroVector,
} from '#core/math/vector';
import { ANGLE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { AttachmentClause, AttachmentMember, BendStep, Name } from '#grammar/tree';
import { duplicateMember } from '../diagnostics/duplicate-member';
import { seatOutOfLine } from '../diagnostics/seat-out-of-line';
import { slotDirectionUnknown } from '../diagnostics/slot-direction-unknown';
import { wireDoesNotFitSlot } from '../diagnostics/wire-does-not-fit-slot';
import { evaluateNumber } from '../expression/expectation';
import type { Place } from '../expression/place';
import { ANATOMY, ARCH, directionVector, vectorOf } from '../path/directions';
import type { Seat } from '../path/layout';
import type { Site } from '../site';
import { outerSection } from '../stock';
import type { Tooth } from '../teeth';
import { lengthFromZero, resolveSlot, type Slot } from '../wire';
import { type Contact, hasEdges, readContact } from './lengthwise';
import type { AttachmentOnTooth } from './teeth';

/** What an attachment's line says, as numbers. */
export interface Fitted {
  readonly node: AttachmentMember;
  readonly name: string;
  readonly slot: Slot | undefined;
  readonly length: number;
  /** Away from the first seat's nominal place, mm. */
  readonly at: Vec3 | undefined;
  /** Away from its own seat's nominal place, mm. */
  readonly moved: Vec3 | undefined;
  /** The same along its own mesial, gingival and buccal, in a whole arch. */
  readonly movedLocally: Vec3;
  readonly tooth: Tooth | undefined;
  /** Where buccal points in a whole arch. */
  readonly facing: Name | undefined;
  /** The slot's own turns; undefined where none is given. */
  readonly turn: Mat3 | undefined;
  /** Undefined where it contradicts itself. */
  readonly contact: Contact | undefined;
  /** False where something that is written could not be made out. */
  readonly complete: boolean;
}

export function readAttachment(
  { node, tooth }: AttachmentOnTooth,
  { kind: site }: Site,
  uri: string,
  place: Place,
): Fitted | undefined {
  if (!node.name) return undefined;
  let complete = true;
  const number = <T>(value: T | undefined): T | undefined => {
    if (value === undefined) complete = false;
    return value;
  };
  const clause = <K extends AttachmentClause['kind']>(kind: K) => {
    const [first, second] = node.clauses.filter((candidate) => candidate.kind === kind);
    if (second) place.recorder.problem(duplicateMember.at(second.span, `"${kind}"`, { uri, span: first.span }));
    return first as Extract<AttachmentClause, { kind: K }> | undefined;
  };
  const slotClause = clause('slot');
  const lengthClause = clause('length');
  const angle = (kind: 'tip' | 'rotation' | 'torque') => {
    const written = clause(kind);
    return written && (number(evaluateNumber(written.value, ANGLE, `A ${kind}`, place)) ?? 0);
  };
  const facing = clause('facing')?.direction;
  if (facing && site === 'quadrant') {
    place.recorder.problem(
      slotDirectionUnknown.at(facing.span, node.name.text, 'on a quadrant it is plain: leave `facing` out.'),
    );
  }
  const frame = site === 'arch' ? ARCH : ANATOMY;
  // In a whole arch a tooth's own directions may be written too, save those that both frames have.
  const isLocal = (word: Name | undefined) =>
    word !== undefined && !vectorOf(word.text, frame) && vectorOf(word.text, ANATOMY) !== undefined;
  const offset = (kind: 'at' | 'moved', which: 'frame' | 'local' = 'frame') => {
    const written = clause(kind);
    if (!written) return undefined;
    const local = kind === 'moved' && which === 'local';
    return written.offsets
      .filter(({ direction }) => (kind === 'at' ? !local : isLocal(direction) === local))
      .reduce<Vec3>(
        (sum, { value, direction }) => {
          const distance = number(evaluateNumber(value, LENGTH, 'A distance', place));
          const vector = number(directionVector(direction, local ? ANATOMY : frame, place.recorder));
          return addScaled(sum, vector ?? [0, 0, 0], distance ?? 0);
        },
        [0, 0, 0],
      );
  };
  const [tip, rotation, torque] = [angle('tip'), angle('rotation'), angle('torque')];
  const turned = tip !== undefined || rotation !== undefined || torque !== undefined;
  const length =
    lengthClause &&
    number(lengthFromZero(lengthClause.value, `The ${lengthClause.keyword.text} of an attachment`, place));
  const fitted: Fitted = {
    node,
    name: node.name.text,
    slot: slotClause && resolveSlot(slotClause.size, place),
    length: node.fitting === 'hook' || node.fitting === 'eyelet' ? 0 : (length ?? 0),
    at: offset('at'),
    moved: offset('moved'),
    movedLocally: offset('moved', 'local') ?? zeroVector,
    tooth,
    facing,
    turn: turned ? turnMatrix(tip ?? 0, rotation ?? 0, torque ?? 0) : undefined,
    contact: number(readContact(node, clause, place)),
    complete,
  };
  return hasEdges(fitted, place) ? fitted : { ...fitted, complete: false };
}

/** R = Rz(tip) Ry(rotation) Rx(torque), right-hand turns about buccal, gingival and mesial. */
function turnMatrix(tip: number, rotation: number, torque: number): Mat3 {
  return multiply(
    multiply(rotationMatrix([0, 0, tip]), rotationMatrix([0, rotation, 0])),
    rotationMatrix([torque, 0, 0]),
  );
}

/** Reports a wire that is higher or wider than the slot. */
export function checkFit({ node, slot }: Fitted, stock: Stock, place: Place): void {
  if (!slot) return;
  const { height, width } = sectionProperties(outerSection(stock));
  const span = node.clauses.find(({ kind }) => kind === 'slot')?.span ?? node.span;
  const shown = (value: number) => formatQuantity({ value, dimension: LENGTH });
  // Equal sizes in different units may differ in the last digit.
  const slack = 1e-9;
  if (height > slot.height + slack) {
    place.recorder.problem(wireDoesNotFitSlot.at(span, shown(height), shown(slot.height), 'high'));
  } else if (width > slot.depth + slack) {
    place.recorder.problem(wireDoesNotFitSlot.at(span, shown(width), shown(slot.depth), 'deep'));
  }
}

/** The nominal seat, turned so that the tangent is mesial: half a turn about gingival where the wire passes the slot backwards. */
const BACKWARDS: Mat3 = [-1, 0, 0, 0, 1, 0, 0, 0, -1];

/**
 * @param axes  the tooth's mesial, gingival, buccal in the outer frame
 * @param backwards  the wire passes the slot from mesial to distal
 */
export function attachmentOf(fitted: Fitted, seat: Seat, origin: Vec3, axes: Mat3, backwards: boolean): Attachment {
  const running = backwards ? BACKWARDS : identityMatrix;
  const mirrored = handedness(axes) < 0 ? MIRROR : identityMatrix;
  const given = fitted.at !== undefined || fitted.turn !== undefined;
  const slotAxes = given
    ? multiply(axes, fitted.turn ?? identityMatrix)
    : multiply(multiply(seat.pose.axes, running), mirrored);
  const place = fitted.at ?? subtract(seat.pose.position, origin);
  const seatedWire: Pose = {
    position: add(add(place, fitted.moved ?? zeroVector), apply(axes, fitted.movedLocally)),
    axes: given ? multiply(multiply(slotAxes, mirrored), running) : seat.pose.axes,
  };
  return {
    name: fitted.name,
    fitting: fitted.node.fitting,
    station: seat.station,
    length: fitted.length,
    slot: fitted.slot,
    seatedWire,
    slotAxes,
    // Results are told by the tooth's mesial, gingival and buccal, however its slot is turned.
    axes,
    ...(fitted.contact ?? HELD),
  };
}

/** Turns left-handed axes into right-handed ones. */
const MIRROR: Mat3 = [1, 0, 0, 0, 1, 0, 0, 0, -1];

const HELD: Contact = { tied: false, lengthwise: 'held', play: false, friction: 0 };

const LEAST_ANGLE = (1 * Math.PI) / 180;
const LEAST_OFFSET = 0.1;

/** How far a seat's nominal direction and line leave those of the first seat. */
export function seatDeviation(seat: Seat, first: Seat): { readonly angle: number; readonly offset: number } {
  const tangent = column(first.pose.axes, 0);
  const own = column(seat.pose.axes, 0);
  const sine = norm(cross(tangent, own));
  const cosine = tangent[0] * own[0] + tangent[1] * own[1] + tangent[2] * own[2];
  const offset = norm(cross(tangent, subtract(seat.pose.position, first.pose.position)));
  return { angle: Math.atan2(sine, cosine), offset };
}

export function isInLine(fitted: Fitted, deviation: { readonly angle: number; readonly offset: number }): boolean {
  const point = fitted.node.fitting === 'hook' || fitted.node.fitting === 'eyelet';
  return (point || deviation.angle <= LEAST_ANGLE) && deviation.offset <= LEAST_OFFSET;
}

/** Warns of a seat that the nominal shape turns away from, or puts beside, the first seat; `culprit` brings it back. */
export function reportOutOfLine(
  fitted: Fitted,
  seat: Seat,
  first: Seat,
  culprit: BendStep | undefined,
  place: Place,
): void {
  const { angle, offset } = seatDeviation(seat, first);
  const shownAngle = formatQuantity({ value: angle, dimension: ANGLE });
  const shownOffset = formatQuantity({ value: offset, dimension: LENGTH });
  const deviation = angle > LEAST_ANGLE ? `points ${shownAngle} away from` : `lies ${shownOffset} off the line of`;
  const keyword = culprit && place.text.slice(culprit.span.start).match(/^bend\b/);
  const fix =
    culprit && keyword
      ? {
          title: 'Make it a preactivation bend',
          span: { start: culprit.span.start, end: culprit.span.start + 'bend'.length },
          text: 'preactivate',
        }
      : undefined;
  place.recorder.problem(seatOutOfLine.at(seat.span, fitted.name, first.name, deviation, fix));
}
