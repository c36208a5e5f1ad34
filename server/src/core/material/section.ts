/** Properties of a wire's cross-section: up is the direction of the height, side that of the width. */
import type { Alloy, Section } from '../design';
import { rectangleTorsionFactor, roundedCornersLoss } from './torsion';

export interface SectionProperties {
  /** mm² */
  readonly area: number;
  /** Second moment for bending about the side axis (through the height: bends in the tangent-up plane), mm⁴. */
  readonly inertiaSide: number;
  /** Second moment for bending about the up axis (through the width), mm⁴. */
  readonly inertiaUp: number;
  /** Torsion constant, mm⁴. */
  readonly torsionConstant: number;
  /** Elastic section moduli, mm³. */
  readonly modulusSide: number;
  readonly modulusUp: number;
  /** Size along up and side, mm. */
  readonly height: number;
  readonly width: number;
  /** Smaller of the two, mm. */
  readonly thickness: number;
}

/** Stiffnesses of the rod: N for EA and GA, N mm² for the others. */
export interface Stiffness {
  readonly EA: number;
  readonly GA: number;
  readonly GJ: number;
  readonly EIup: number;
  readonly EIside: number;
}

export function sectionProperties(section: Section): SectionProperties {
  return section.kind === 'round'
    ? round(section.diameter)
    : rectangle(section.height, section.width, section.cornerRadius);
}

/** Effective area in shear is area × this factor (Cowper, J Appl Mech 1966;33:335-340, from memory). */
export function shearFactor(section: Section, poisson: number): number {
  return section.kind === 'round'
    ? (6 * (1 + poisson)) / (7 + 6 * poisson)
    : (10 * (1 + poisson)) / (12 + 11 * poisson);
}

export function stiffness(section: Section, alloy: Alloy): Stiffness {
  const properties = sectionProperties(section);
  const shearModulus = alloy.modulus / (2 * (1 + alloy.poisson));
  return {
    EA: alloy.modulus * properties.area,
    GA: shearModulus * properties.area * shearFactor(section, alloy.poisson),
    GJ: shearModulus * properties.torsionConstant,
    EIup: alloy.modulus * properties.inertiaUp,
    EIside: alloy.modulus * properties.inertiaSide,
  };
}

function round(d: number): SectionProperties {
  const inertia = (Math.PI * d ** 4) / 64;
  const modulus = (Math.PI * d ** 3) / 32;
  return {
    area: (Math.PI * d * d) / 4,
    inertiaSide: inertia,
    inertiaUp: inertia,
    torsionConstant: 2 * inertia,
    modulusSide: modulus,
    modulusUp: modulus,
    height: d,
    width: d,
    thickness: d,
  };
}

function rectangle(height: number, width: number, cornerRadius: number): SectionProperties {
  const radius = Math.min(cornerRadius, height / 2, width / 2);
  const inertiaSide = (width * height ** 3) / 12 - cornerLoss(height, radius);
  const inertiaUp = (height * width ** 3) / 12 - cornerLoss(width, radius);
  const area = height * width - (4 - Math.PI) * radius * radius;
  const long = Math.max(height, width);
  const short = Math.min(height, width);
  const sharp = rectangleTorsionFactor(long, short) * long * short ** 3;
  return {
    area,
    inertiaSide,
    inertiaUp,
    torsionConstant: sharp - roundedCornersLoss(long, short, radius),
    modulusSide: inertiaSide / (height / 2),
    modulusUp: inertiaUp / (width / 2),
    height,
    width,
    thickness: short,
  };
}

/**
 * Second moment of the four corner pieces (square r × r less quarter circle) about the mid axis of a section
 * of the given depth: own moment and area of one piece by integration, moved by the parallel-axis rule.
 */
function cornerLoss(depth: number, r: number): number {
  if (r === 0) return 0;
  const area = (1 - Math.PI / 4) * r * r;
  // About the axis through the circle's centre: square r⁴/3, quarter circle π r⁴/16; first moments r³/2 and r³/3.
  const first = r ** 3 / 2 - r ** 3 / 3;
  const second = r ** 4 / 3 - (Math.PI * r ** 4) / 16;
  const offset = depth / 2 - r;
  return 4 * (second + 2 * offset * first + offset * offset * area);
}
