/** A wire that is computed by the product and by finite elements, written in the language. */
import type { MeshSize } from '../swept-mesh';

export interface FiniteElementCase {
  readonly name: string;
  /** What is particular about it. */
  readonly about: string;
  readonly text: string;
  /** Elastic-plastic by the alloy's own law; the others stay elastic whatever the stress. */
  readonly plastic?: boolean;
  /**
   * Straight wires, compared where nothing pulls along them: there the first attachment lets the finite-element wire
   * slide. Held lengthwise, what a solid stretches in bending (half the strain squared) would outweigh all else.
   */
  readonly slides?: boolean;
  /** Two mesh levels. */
  readonly meshes: readonly [coarse: MeshSize, fine: MeshSize];
  /** Solved in a few seconds at the coarse level: runs with the tests. */
  readonly quick?: boolean;
}

const degree = Math.PI / 180;

/** Second moment, shear and Poisson's effects need two bricks each way; torsion and yielding more, at least on the finer level. */
export const bendingMeshes = [
  { longest: 2, turn: 45 * degree, high: 2, wide: 2 },
  { longest: 1, turn: 22.5 * degree, high: 2, wide: 2 },
] as const;

export const spatialMeshes = [
  { longest: 2, turn: 45 * degree, high: 2, wide: 2 },
  { longest: 1.5, turn: 30 * degree, high: 4, wide: 4 },
] as const;

/** Round wire: twelve bricks over the section; its circle is followed closely already. */
export const roundMeshes = [
  { longest: 4, turn: 36 * degree, high: 2, wide: 2 },
  { longest: 2, turn: 18 * degree, high: 2, wide: 2 },
] as const;

/** Sections yield layer by layer, and most within a millimetre of the slots' edges: more bricks over the height, short ones there. */
export const plasticMeshes = [
  { longest: 1.5, turn: 30 * degree, high: 4, wide: 2, atEnds: 0.5 },
  { longest: 1, turn: 20 * degree, high: 6, wide: 2, atEnds: 0.25 },
] as const;

export const plasticSpatialMeshes = [
  { longest: 1.5, turn: 30 * degree, high: 4, wide: 4, atEnds: 0.75 },
  { longest: 1, turn: 20 * degree, high: 4, wide: 4, atEnds: 0.375 },
] as const;

/**
 * Round wire past yield: 48 bricks over the section. With twelve their integration points miss the moment of a half yielded section
 * by up to 2 %, with these by 0.2 %.
 */
export const plasticRoundMeshes = [
  { longest: 3, turn: 30 * degree, high: 4, wide: 4, atEnds: 0.75 },
  { longest: 2, turn: 20 * degree, high: 4, wide: 4, atEnds: 0.375 },
] as const;

/** Alloys of the handbook's nominal moduli (1.1) with a yield strength that no elastic case reaches. */
export const elasticAlloys = `alloy titanium { modulus = 66 GPa poisson = 0.33 yield = 9 GPa inner_radius = 1.5 }
alloy steel { modulus = 180 GPa poisson = 0.3 yield = 20 GPa inner_radius = 1 }`;

/** The slope past yield is assumed; it is the same on both sides. */
export const plasticAlloys = `alloy titanium { modulus = 66 GPa poisson = 0.33 yield = 900 MPa hardening = 1.32 GPa inner_radius = 1.5 }
alloy steel { modulus = 180 GPa poisson = 0.3 yield = 1500 MPa hardening = 3.6 GPa inner_radius = 1 }`;
