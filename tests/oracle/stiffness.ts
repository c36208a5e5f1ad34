/** Section stiffnesses for the oracle, from the textbook formulas (handbook 3.1 and 3.2). */
import type { ApplianceDesign } from '#core/design';

export interface Stiffness {
  /** About tangent (G J), up (bending through the width) and side (bending through the height), N mm². */
  readonly turn: readonly [number, number, number];
  /** Along tangent (E A), up and side (shear), N. */
  readonly stretch: readonly [number, number, number];
  readonly poisson: number;
  /** How much of it stretch and shear turn the sections of bends: all, or nothing where they are taken as none. */
  readonly bends: number;
}

export function stiffnessOf(design: ApplianceDesign, bendingOnly = false): Stiffness {
  return { ...sectionStiffness(design, bendingOnly), poisson: design.alloy.poisson, bends: bendingOnly ? 0 : 1 };
}

function sectionStiffness(design: ApplianceDesign, bendingOnly: boolean): Pick<Stiffness, 'turn' | 'stretch'> {
  const { modulus, poisson } = design.alloy;
  const shear = modulus / (2 * (1 + poisson));
  const { section } = design;
  // So stiff in shear and stretch that their share of the deflection, about (h/L)² / 1e4, stays below 1e-7.
  const rigid = bendingOnly ? 1e4 : 1;
  if (section.kind === 'round') {
    const area = (Math.PI * section.diameter ** 2) / 4;
    const inertia = (Math.PI * section.diameter ** 4) / 64;
    // Shear coefficient of the circle, 6 (1 + ν) / (7 + 6 ν): Cowper, J. Appl. Mech. 33 (1966) 335 (from memory).
    const shearArea = (area * 6 * (1 + poisson)) / (7 + 6 * poisson);
    return {
      turn: [shear * 2 * inertia, modulus * inertia, modulus * inertia],
      stretch: [modulus * area * rigid, shear * shearArea * rigid, shear * shearArea * rigid],
    };
  }
  const { height, width } = section;
  if (section.cornerRadius > 0) throw new Error('the oracle knows sharp-cornered sections only');
  const area = height * width;
  // Shear coefficient of the rectangle, 10 (1 + ν) / (12 + 11 ν): Cowper (from memory).
  const shearArea = (area * 10 * (1 + poisson)) / (12 + 11 * poisson);
  return {
    turn: [
      shear * torsionConstant(height, width),
      (modulus * height * width ** 3) / 12,
      (modulus * width * height ** 3) / 12,
    ],
    stretch: [modulus * area * rigid, shear * shearArea * rigid, shear * shearArea * rigid],
  };
}

/** St. Venant's series for the rectangle (Timoshenko and Goodier). */
function torsionConstant(height: number, width: number): number {
  const long = Math.max(height, width);
  const short = Math.min(height, width);
  let series = 0;
  for (let n = 1; n < 60; n += 2) series += Math.tanh((n * Math.PI * long) / (2 * short)) / n ** 5;
  return ((long * short ** 3) / 3) * (1 - ((192 * short) / (Math.PI ** 5 * long)) * series);
}
