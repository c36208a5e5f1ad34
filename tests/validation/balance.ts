/** Balance of an equilibrium about every attachment, from the reported wrenches alone (handbook row C60, statics). */
import type { EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { add, apply, cross, norm, scale, subtract, type Vector } from '../oracle/rotation';

/** Sums of forces and of moments about each attachment, divided by the largest term that enters the sum. */
export function imbalance(design: ApplianceDesign, state: EngagedState): { force: number; moment: number } {
  const loads = design.attachments.map((attachment, i) => ({
    place: placeOf(design, state, i),
    force: apply(attachment.axes, state.wrenches[i].force),
    moment: apply(attachment.axes, state.wrenches[i].moment),
  }));
  const total = (terms: readonly Vector[]) => {
    const largest = Math.max(...terms.map(norm));
    return largest === 0 ? 0 : norm(terms.reduce((sum, term) => add(sum, term), [0, 0, 0])) / largest;
  };
  return {
    force: total(loads.map((load) => load.force)),
    moment: Math.max(
      ...loads.map(({ place }) =>
        total(loads.flatMap((load) => [load.moment, cross(subtract(load.place, place), load.force)])),
      ),
    ),
  };
}

/**
 * Where an attachment's reported force and moment act: its slot's centre, moved where it is the one that moves; at a
 * hook or eyelet the place of its mark on the wire. Worked out here from the input and the outline.
 */
export function placeOf(design: ApplianceDesign, state: EngagedState, index: number): Vector {
  const attachment = design.attachments[index];
  if (attachment.fitting === 'hook' || attachment.fitting === 'eyelet') return outlineAt(state, attachment.station);
  const motion = design.activation?.motion;
  const moved =
    motion?.kind === 'move' && motion.attachment === index ? scale(motion.direction, state.motion) : [0, 0, 0];
  return add(attachment.seatedWire.position, moved);
}

/** Point of the engaged outline at a station, which must be one of its own. */
export function outlineAt(state: EngagedState, station: number): Vector {
  const { stations, points } = state.outline;
  let best = 0;
  for (let k = 1; k < stations.length; k++) {
    if (Math.abs(stations[k] - station) < Math.abs(stations[best] - station)) best = k;
  }
  if (Math.abs(stations[best] - station) > 1e-9) throw new Error(`the outline has no point at ${station} mm`);
  return [points[3 * best], points[3 * best + 1], points[3 * best + 2]];
}
