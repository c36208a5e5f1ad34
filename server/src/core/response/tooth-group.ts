/** Teeth that move as one, and the wire's forces moved to their centre of resistance. */
import type { EngagedState, Wrench } from '../analysis/analysis';
import type { ApplianceDesign, ToothGroup } from '../design';
import { handedness } from '../math/rotation';
import { add, apply, applyTransposed, cross, norm, scale, subtract, type Vec3, zeroVector } from '../math/vector';

/** In one outer frame, about one point. */
export interface OuterLoad {
  readonly force: Vec3;
  readonly moment: Vec3;
}

/**
 * What the wires of a state do to a group, about a point of the outer frame (its centre of resistance where none is given):
 * N, N mm, in the outer frame. A moment keeps its sense and changes its sign in axes that are a mirror image.
 */
export function loadOnGroup(
  { attachments }: ApplianceDesign,
  { wrenches, places }: Pick<EngagedState, 'wrenches' | 'places'>,
  group: ToothGroup,
  about: Vec3 = group.resistance,
): OuterLoad {
  return sumAbout(
    group.attachments.map((k) => ({ axes: attachments[k].axes, wrench: wrenches[k], place: places[k] })),
    about,
  );
}

/**
 * The same along the group's own mesial, gingival and buccal. Of a group tied to its mirror image on the other side, what
 * the two sides undo in each other is left out: force to the side, and turns about the other two axes.
 */
export function wrenchAtResistance(
  design: ApplianceDesign,
  state: Pick<EngagedState, 'wrenches' | 'places'>,
  group: ToothGroup,
  about?: Vec3,
): Wrench {
  const { force, moment } = loadOnGroup(design, state, group, about);
  const sign = handedness(group.axes);
  const own: Wrench = {
    force: applyTransposed(group.axes, force),
    moment: scale(applyTransposed(group.axes, moment), sign),
  };
  return group.bothSides ? { force: [own.force[0], own.force[1], 0], moment: [0, 0, own.moment[2]] } : own;
}

/** What is left of the forces (N) and moments (N mm) on all teeth taken together; nothing where the wire is in balance. */
export function imbalance(
  { attachments }: ApplianceDesign,
  { wrenches, places }: Pick<EngagedState, 'wrenches' | 'places'>,
): { readonly force: number; readonly moment: number } {
  const all = attachments.map(({ axes }, k) => ({ axes, wrench: wrenches[k], place: places[k] }));
  const { force, moment } = sumAbout(all, places[0] ?? zeroVector);
  return { force: norm(force), moment: norm(moment) };
}

function sumAbout(
  loads: readonly { readonly axes: ToothGroup['axes']; readonly wrench: Wrench; readonly place: Vec3 }[],
  about: Vec3,
): OuterLoad {
  let force: Vec3 = zeroVector;
  let moment: Vec3 = zeroVector;
  for (const { axes, wrench, place } of loads) {
    const pull = apply(axes, wrench.force);
    force = add(force, pull);
    moment = add(moment, scale(apply(axes, wrench.moment), handedness(axes)));
    moment = add(moment, cross(subtract(place, about), pull));
  }
  return { force, moment };
}
