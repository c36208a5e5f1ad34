/** What supports a wire at a place of it: which law, where it stands, and what it leaves to the wire. */
import type { ApplianceDesign, Attachment, Pose } from '../../design';
import { type Centreline, poseAt } from '../../geometry/centreline';
import { relativeTo, turnRound } from '../../geometry/pose';
import { sectionProperties } from '../../material/section';
import { thirdOrderPlay } from '../../material/slot-play';
import { addScaled, applyTransposed, identityMatrix, scale, type Vec3 } from '../../math/vector';
import { edgePose, type PlacedSpan, posePath, seatAt, spanFrame } from '../placed-span';
import type { SupportPlace } from '../stretches';
import type { WireControls } from '../wire-controls';
import type { SlotPlace } from './contact-geometry';
import { type LoadEnd, loadPull } from './load';
import { guide, hookContact, slotEdge, slotMiddle } from './slot';
import type { SupportLaw } from './supports';

/** Of the span that is supported: its frame, its start in the nominal wire, and which attachment holds that. */
export interface Base {
  readonly frame: Pose;
  readonly startNominal: Pose;
  readonly reversed: boolean;
  readonly start: number | undefined;
}

export interface SupportedWire {
  readonly design: ApplianceDesign;
  readonly nominal: Centreline;
  readonly spans: readonly PlacedSpan[];
  readonly controls: WireControls;
}

/** The law of support k of a span. `spans`: all of the wire in the end, among which loads look for their other ends. */
export function supportLaw(wire: SupportedWire, { of }: SupportPlace, k: number, base: Base): SupportLaw {
  const { design, nominal, controls } = wire;
  if (of.kind === 'load') return loadPull(k, design.loads[of.load], otherEnd(wire, of.load, of.end, base));
  const attachment = design.attachments[of.attachment];
  const facing = (pose: Pose) => (base.reversed ? turnRound(pose) : pose);
  const seat = poseAt(nominal, attachment.station, 'after');
  const way = posePath(
    relativeTo(base.startNominal, facing(seat)),
    relativeTo(base.frame, facing(attachment.seatedWire)),
  );
  const rate = shiftRate(design, of.attachment, base);
  const placeAt = (share: number, motion: number): SlotPlace => {
    const { position, axes } = way(share);
    return { position: addScaled(position, rate, motion), axes };
  };
  if (of.kind === 'edge')
    return slotEdge(
      k,
      placeAt,
      base.reversed ? -of.along : of.along,
      playAcross(design, attachment),
      controls.contacts,
    );
  const out = (of.attachment === 0 ? -1 : 1) * (base.reversed ? -1 : 1);
  const lengthwise = { held: 'held', sliding: 0, cinched: out === 1 ? 1 : -1 } as const;
  if (of.kind === 'hook') {
    const slot = relativeTo(base.frame, { position: attachment.seatedWire.position, axes: attachment.slotAxes });
    const hookAt = (share: number, motion: number): SlotPlace => ({
      position: placeAt(share, motion).position,
      axes: slot.axes,
    });
    return hookContact(k, hookAt, attachment.lengthwise === 'sliding', attachment.tied, controls.contacts);
  }
  if (!(attachment.length > 0)) return guide(k, placeAt, lengthwise[attachment.lengthwise], controls.contacts);
  return slotMiddle(k, placeAt, lengthwise[attachment.lengthwise], twistPlay(design, attachment), controls.contacts);
}

/** Way of a support's place per mm of the motion, in the span's frame; `own`: supports of the same span. */
export function supportShift(
  design: ApplianceDesign,
  { of }: SupportPlace,
  own: readonly SupportPlace[],
  base: Base,
): Vec3 {
  if (of.kind !== 'load') return shiftRate(design, of.attachment, base);
  const { from, to } = design.loads[of.load];
  const other = of.end === 'from' ? to : from;
  if (other.on === 'attachment') return shiftRate(design, other.attachment, base);
  const together = own.some(({ of: one }) => one.kind === 'load' && one.load === of.load && one.end !== of.end);
  return together ? [0, 0, 0] : shiftRate(design, undefined, base);
}

/** Per mm of the motion, in the span's frame; of what stands still where that is no attachment. */
function shiftRate(design: ApplianceDesign, attachment: number | undefined, { frame, start }: Base): Vec3 {
  const motion = design.activation?.motion;
  if (motion?.kind !== 'move') return [0, 0, 0];
  const along = applyTransposed(frame.axes, motion.direction);
  if (motion.attachment === start) return attachment === start ? [0, 0, 0] : scale(along, -1);
  return motion.attachment === attachment ? along : [0, 0, 0];
}

/** How far the wire's line may leave the slot's middle at an edge, mm; none without play. */
function playAcross({ section }: ApplianceDesign, { play, slot }: Attachment): { height: number; depth: number } {
  if (!play || !slot) return { height: 0, depth: 0 };
  const { height, width } = sectionProperties(section);
  return { height: Math.max(0, slot.height - height) / 2, depth: Math.max(0, slot.depth - width) / 2 };
}

/** Rad, one-sided; undefined where the wire turns freely. */
function twistPlay({ section }: ApplianceDesign, { play, slot }: Attachment): number | undefined {
  if (!play || !slot) return 0;
  const free = thirdOrderPlay(section, slot.height);
  return free === 'free' ? undefined : (free ?? 0);
}

/** Where the other end of a load is, in a span's frame. */
function otherEnd({ design, nominal, spans }: SupportedWire, index: number, end: 'from' | 'to', base: Base): LoadEnd {
  const load = design.loads[index];
  const place = end === 'from' ? load.to : load.from;
  if (place.on === 'attachment') {
    const { attachment } = place;
    const nominalSeat = poseAt(nominal, design.attachments[attachment].station, 'after');
    const way = posePath(
      relativeTo(base.startNominal, nominalSeat),
      relativeTo(base.frame, design.attachments[attachment].seatedWire),
    );
    const rate = shiftRate(design, attachment, base);
    let now: Vec3 = [0, 0, 0];
    return {
      place: (share, motion) => {
        now = addScaled(way(share).position, rate, motion);
      },
      read: (into) => into.set(now),
    };
  }
  const back = end === 'from' ? 'to' : 'from';
  let between: Pose = { position: [0, 0, 0], axes: identityMatrix };
  let at: { readonly position: Float64Array; readonly node: number } | undefined;
  return {
    place: (_, motion) => {
      const found = spans.flatMap((span) => {
        const k = span.supports.findIndex(({ of }) => of.kind === 'load' && of.load === index && of.end === back);
        return k < 0 ? [] : [{ span, node: span.held.span.supports!.nodes[k] }];
      })[0];
      if (!found) return;
      at = { position: found.span.held.span.position, node: found.node };
      const own = base.start === undefined ? base.frame : movedFrame(design, base, motion);
      between = relativeTo(own, spanFrame(design, found.span, motion));
    },
    read: (into) => {
      if (!at) return;
      const { position: p, axes } = between;
      const [x, y, z] = [at.position[3 * at.node], at.position[3 * at.node + 1], at.position[3 * at.node + 2]];
      for (let k = 0; k < 3; k++) into[k] = p[k] + axes[3 * k] * x + axes[3 * k + 1] * y + axes[3 * k + 2] * z;
    },
  };
}

function movedFrame(design: ApplianceDesign, { start, reversed }: Base, motion: number): Pose {
  return edgePose(design.attachments[start!], seatAt(design, start!, motion), reversed, 'start');
}
