/**
 * What the fibres of a section have been through: how far each has slipped along the wire and, where torsion yields, in shear. What the section
 * has as a whole goes before: a state at which it was looked at, how near its fibres then were to slipping, and the moments that their
 * slips take away. With these most sections are known to slip nowhere, and what they bear, without a look at their fibres.
 * Histories of many sections stand in one array, each from its own `at` on. mm, MPa, N mm, rad/mm, strains as plain numbers.
 */
import type { FibreSection } from './fibre-section';
import { MODE_COUNT } from './twisted-section';

// Where the parts of a section's history stand from its start.
/** Of the elastic range, strain (`usedRange`), and the twist and curvatures at which it was. */
export const USED = 0;
export const TWIST = 1;
export const UP = 2;
export const SIDE = 3;
/** Torque and moments about up and side that are lost by what has slipped, N mm. */
export const LOST_TORQUE = 4;
export const LOST_UP = 5;
export const LOST_SIDE = 6;
/** What is lost of the forces against its modes of warping, N, and their amounts, from which the search for them goes on. */
export const LOST_MODES = 7;
export const MODES = LOST_MODES + MODE_COUNT;
/** Slipped strain of each fibre, then slipped shear of each along up and along side. */
export const FIBRES = MODES + MODE_COUNT;

/** Numbers of a section's history, all of them 0 as long as it has been through nothing. */
export function historySize({ count, torsion }: FibreSection): number {
  return FIBRES + (torsion?.law ? 3 : 1) * count;
}

/** A bound of the elastic strain of every fibre at these strains, comparable by von Mises: up to `elasticLimit`, none slips. */
export function strainAtMost(
  section: FibreSection,
  history: Float64Array,
  at: number,
  twist: number,
  up: number,
  side: number,
): number {
  return (
    history[at + USED] +
    mostStrain(section, twist - history[at + TWIST], up - history[at + UP], side - history[at + SIDE])
  );
}

/** Strain that no fibre exceeds at a twist and curvatures, comparable by von Mises. */
export function mostStrain({ farUp, farSide, torsion }: FibreSection, twist: number, up: number, side: number): number {
  const along = Math.abs(up) * farSide + Math.abs(side) * farUp;
  if (!torsion?.law) return along;
  const across = torsion.law.scale * torsion.farShear * twist;
  return Math.sqrt(along * along + across * across);
}

/** A bound of the stress of every fibre, MPa, where none slips; by von Mises where torsion yields. */
export function stressAtMost(
  section: FibreSection,
  history: Float64Array,
  at: number,
  twist: number,
  up: number,
  side: number,
): number {
  const { modulus, parallel } = section.law;
  const elastic = strainAtMost(section, history, at, twist, up, side);
  // Warping adds no more strain than twist does.
  return (modulus + parallel) * elastic + 2 * parallel * mostStrain(section, twist, up, side);
}

export function hasSlipped(section: FibreSection, history: Float64Array, at: number): boolean {
  for (let k = FIBRES; k < historySize(section); k++) if (history[at + k] !== 0) return true;
  return false;
}
