/**
 * Springback of a bend made by hand, for an elastic, perfectly plastic wire in pure bending: what is left of a
 * curvature when the plier lets go, and how far to bend so that the wanted bend is left.
 *
 * Formulas: handbook 3.4 and 3.6 (Ri/Rf = 4x³ - 3x + 1 for a rectangle, the same as 1 - 1.5η + 0.5η³ with η = 2x).
 * What stress this leaves in the section is the subject of formed-section.ts.
 */
import type { Alloy, Section } from '../design';

/** Moment over the moment of first yield at η = κ_y / κ, 0 < η <= 1. */
export function plasticMomentRatio(shape: Section['kind'], eta: number): number {
  if (shape === 'rectangle') return 1.5 - 0.5 * eta * eta;
  return (2 / (3 * Math.PI)) * ((5 - 2 * eta * eta) * Math.sqrt(1 - eta * eta) + (3 * Math.asin(eta)) / eta);
}

/** Share of the curvature that is left after release; 0 where the bend was elastic (η >= 1). */
export function curvatureLeft(shape: Section['kind'], eta: number): number {
  return eta >= 1 ? 0 : 1 - eta * plasticMomentRatio(shape, eta);
}

/** η of a bend of centre-line radius `radius` under load, mm, through `thickness`, mm. */
export function yieldRatio({ modulus, yield: strength }: Alloy, thickness: number, radius: number): number {
  return (2 * strength * radius) / (modulus * thickness);
}

export interface Overbend {
  /** Angle to bend to under load, rad. */
  readonly angle: number;
  /** Centre-line radius under load, mm. */
  readonly radius: number;
}

/**
 * How to bend so that `angle` (rad) at centre-line radius `radius` (mm) is left: the same wire, bent round a smaller
 * radius to a larger angle. A sharp corner is taken as it is.
 */
export function overbend(section: Section, alloy: Alloy, thickness: number, angle: number, radius: number): Overbend {
  if (!(radius > 0)) return { angle, radius: 0 };
  // The radius left grows with the radius under load, so the wanted one is enclosed and halved down to.
  let low = 0;
  let high = radius;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (low + high) / 2;
    const left = curvatureLeft(section.kind, yieldRatio(alloy, thickness, middle));
    if (left > 0 && middle / left < radius) low = middle;
    else high = middle;
  }
  return { angle: (angle * radius) / high, radius: high };
}

/**
 * How to bend first, and to which angle then to come back, so that `angle` is left of a bend that was `furthest` times it, let
 * go. Loading back runs along the first curve at twice its size (Masing's rule, 1926, from memory).
 */
export function bendBack(
  section: Section,
  alloy: Alloy,
  thickness: number,
  { angle, radius }: Overbend,
  furthest: number,
): { readonly first: Overbend; readonly angle: number } {
  const first = overbend(section, alloy, thickness, furthest * angle, radius / furthest);
  if (!(radius > 0)) return { first, angle };
  const yieldCurvature = (2 * alloy.yield) / (alloy.modulus * thickness);
  const there = plasticMomentRatio(section.kind, yieldRatio(alloy, thickness, first.radius));
  // Moment of the way back over that of first yield; springing back by it leaves the wanted curvature.
  let back = 1;
  for (let k = 0; k < HALVINGS; k++) {
    const change = 1 / first.radius - 1 / radius + back * yieldCurvature;
    back = 2 * plasticMomentRatio(section.kind, Math.min(1, (2 * yieldCurvature) / change)) - there;
  }
  return { first, angle: angle * (1 - back * yieldCurvature * radius) };
}

/** Brings the radius to within 1e-12 of itself. */
const HALVINGS = 40;
