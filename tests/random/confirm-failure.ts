/** Confirms a named failure by geometry alone: nothing here solves anything. */
import type { Failure } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { add, apply, norm, scale, subtract } from '../oracle/rotation';

/** True where the cause the solver names can be seen on the design itself. */
export function confirmed(design: ApplianceDesign, failure: Failure): boolean {
  switch (failure.reason) {
    case 'span-exceeds-wire': {
      const { span, wire } = spanAndWire(design, failure.motion);
      return span >= wire * (1 - 1e-9);
    }
    case 'bend-in-slot': {
      const [low, high] = passedWire(design, failure.attachment, failure.motion);
      const before = design.elements.slice(0, failure.element).reduce((sum, element) => sum + element.length, 0);
      const element = design.elements[failure.element];
      const bent = norm(element.shape) + norm(element.preactivation) > 0;
      return bent && before + element.length > low && before < high;
    }
    case 'wire-end': {
      const [low, high] = passedWire(design, failure.attachment, failure.motion);
      const whole = design.elements.reduce((sum, element) => sum + element.length, 0);
      // The search stops where the wire's end comes to the slot's edge.
      return low < 1e-9 || high > whole - 1e-9;
    }
    default:
      return false;
  }
}

/** Straight distance between the two slots' inner edges, and the wire there is between them. */
export function spanAndWire(design: ApplianceDesign, motion: number): { span: number; wire: number } {
  const [first, last] = design.attachments;
  const declared = design.activation?.motion;
  const edge = (index: 0 | 1) => {
    const { seatedWire, length } = design.attachments[index];
    const moved =
      declared?.kind === 'move' && declared.attachment === index ? scale(declared.direction, motion) : [0, 0, 0];
    const inward = apply(seatedWire.axes, [(index === 0 ? 1 : -1) * (length / 2), 0, 0]);
    return add(add(seatedWire.position, moved), inward);
  };
  const wire = seatStation(design, 1, motion) - last.length / 2 - (seatStation(design, 0, motion) + first.length / 2);
  return { span: norm(subtract(edge(1), edge(0))), wire };
}

function seatStation(design: ApplianceDesign, index: number, motion: number): number {
  const declared = design.activation?.motion;
  const drawn = declared?.kind === 'pull' && declared.attachment === index ? motion : 0;
  return design.attachments[index].station + (index === 0 ? drawn : -drawn);
}

/** Stations of the wire that lies in the slot or was drawn through it on the way. */
function passedWire(design: ApplianceDesign, index: number, motion: number): [number, number] {
  const { length } = design.attachments[index];
  const seats = [seatStation(design, index, 0), seatStation(design, index, motion)];
  return [Math.min(...seats) - length / 2, Math.max(...seats) + length / 2];
}
