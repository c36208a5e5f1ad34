/** Largest elastic stress over a cross-section. */
import type { Section } from '../design';
import { sectionProperties } from './section';
import { longSideShear, shortSideShear } from './torsion';

/** Section forces: N and N mm, in the section's own frame. */
export type FibreStress = (axial: number, torque: number, momentUp: number, momentSide: number) => number;

/**
 * Largest von Mises stress, MPa, from stretch, bending about both axes and torsion, searched along the
 * perimeter, where each of them is largest. Torsion shear follows the Saint-Venant series of the sharp
 * rectangle; the shear of transverse forces (below 2 % of the bending stress in a slender wire) is left out.
 */
export function fibreStress(section: Section): FibreStress {
  const properties = sectionProperties(section);
  const { area, modulusSide, torsionConstant, height, width } = properties;
  if (section.kind === 'round') {
    const polarModulus = torsionConstant / (section.diameter / 2);
    return (axial, torque, momentUp, momentSide) => {
      const normal = Math.abs(axial) / area + Math.sqrt(momentUp * momentUp + momentSide * momentSide) / modulusSide;
      const shear = torque / polarModulus;
      return Math.sqrt(normal * normal + 3 * shear * shear);
    };
  }
  const radius = Math.min(section.cornerRadius, height / 2, width / 2);
  const { inertiaUp, inertiaSide } = properties;
  const perimeter = quarterPerimeter(height, width);
  const count = perimeter.length / 3;
  return (axial, torque, momentUp, momentSide) => {
    const stretch = Math.abs(axial) / area;
    // Stress gradients along up and side; the two moments add at one of the four corners.
    const alongUp = Math.abs(momentSide) / inertiaSide;
    const alongSide = Math.abs(momentUp) / inertiaUp;
    // Farthest point of the rounded rectangle in the direction of the gradient; no torsion shear in a corner.
    const corner =
      stretch +
      alongUp * (height / 2 - radius) +
      alongSide * (width / 2 - radius) +
      radius * Math.sqrt(alongUp * alongUp + alongSide * alongSide);
    if (torque === 0) return corner;
    let largest = corner * corner;
    for (let k = 0; k < count; k++) {
      const normal = Math.min(corner, stretch + alongUp * perimeter[3 * k] + alongSide * perimeter[3 * k + 1]);
      const shear = torque * perimeter[3 * k + 2];
      const square = normal * normal + 3 * shear * shear;
      if (square > largest) largest = square;
    }
    return Math.sqrt(largest);
  };
}

/** Points from the middle of the long side round the corner to the middle of the short side: up, side, shear per torque. */
function quarterPerimeter(height: number, width: number): Float64Array {
  const long = Math.max(height, width);
  const short = Math.min(height, width);
  const scale = 1 / (long * short * short);
  const points: number[] = [];
  for (const along of STATIONS) {
    const place = height >= width ? [(along * long) / 2, short / 2] : [short / 2, (along * long) / 2];
    points.push(...place, longSideShear(long, short, along) * scale);
  }
  for (const along of STATIONS) {
    const place = height >= width ? [long / 2, (along * short) / 2] : [(along * short) / 2, long / 2];
    points.push(...place, shortSideShear(long, short, along) * scale);
  }
  return Float64Array.from(points);
}

const STATIONS = [0, 0.25, 0.5, 0.7, 0.85, 0.95];
