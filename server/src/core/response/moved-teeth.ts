/** An appliance whose teeth have moved, and whose wire has been drawn. */
import { type ApplianceDesign, type Attachment, pullWay } from '../design';
import { rotationMatrix } from '../math/rotation';
import { add, addScaled, apply, multiply, subtract, type Vec3, zeroVector } from '../math/vector';

/** A rigid motion of a group: its centre of resistance moves by `shift`, mm, and it turns about it by the rotation vector `turn`, rad; both in the outer frame. */
export interface GroupMotion {
  readonly shift: Vec3;
  readonly turn: Vec3;
}

/**
 * The design with the groups of `main` moved: its own attachments, or those of another wire that have the same names (which
 * has no groups of its own). The axes in which results are told stay as they were.
 */
export function withMovedTeeth(
  design: ApplianceDesign,
  main: ApplianceDesign,
  motions: readonly GroupMotion[],
): ApplianceDesign {
  const motionOf = new Map<string, { readonly motion: GroupMotion; readonly about: Vec3 }>();
  for (const [k, { attachments, resistance }] of main.groups.entries()) {
    for (const index of attachments)
      motionOf.set(main.attachments[index].name, { motion: motions[k], about: resistance });
  }
  return {
    ...design,
    attachments: design.attachments.map((attachment) => {
      const moved = motionOf.get(attachment.name);
      return moved ? movedAttachment(attachment, moved.motion, moved.about) : attachment;
    }),
    groups: design.groups.map((group, k) => ({
      ...group,
      resistance: add(group.resistance, motions[k]?.shift ?? zeroVector),
    })),
  };
}

/** A point of the group after the motion. */
export function movedPoint(point: Vec3, { shift, turn }: GroupMotion, about: Vec3): Vec3 {
  return add(add(about, shift), apply(rotationMatrix(turn), subtract(point, about)));
}

function movedAttachment(attachment: Attachment, motion: GroupMotion, about: Vec3): Attachment {
  const turned = rotationMatrix(motion.turn);
  const { position, axes } = attachment.seatedWire;
  return {
    ...attachment,
    seatedWire: { position: movedPoint(position, motion, about), axes: multiply(turned, axes) },
    slotAxes: multiply(turned, attachment.slotAxes),
  };
}

/** The design with so much of its activation's motion, mm, done for good; without an activation it is itself. */
export function drawnBy(design: ApplianceDesign, motion: number): ApplianceDesign {
  const { activation, trialActivation: _, ...rest } = design;
  if (!activation) return design;
  const { motion: how } = activation;
  const attachments = design.attachments.map((attachment, k): Attachment => {
    if (k !== how.attachment) return attachment;
    if (how.kind === 'pull') return { ...attachment, station: attachment.station - pullWay(how) * motion };
    const { position, axes } = attachment.seatedWire;
    return { ...attachment, seatedWire: { position: addScaled(position, how.direction, motion), axes } };
  });
  return { ...rest, activation: undefined, attachments };
}
