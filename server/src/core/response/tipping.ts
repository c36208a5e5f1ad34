/**
 * Where a group turns about under a force and a moment at its centre of resistance: the constant product `a b = σ²` of the
 * distance of the line of action and that of the centre of rotation (handbook 6.2; Nägerl and others 1991, experiment).
 */
import type { Wrench } from '../analysis/analysis';

/** The plane along the arch (tip) or across it (torque). */
export type Plane = 'along' | 'across';

export interface Tipping {
  /** Force along the arch toward mesial, or across it toward buccal, N. */
  readonly force: number;
  /** Of the line of action from the centre of resistance, toward occlusal, mm; undefined for a pure couple. */
  readonly lineOfAction: number | undefined;
  /** Of the centre of rotation from the centre of resistance, toward apical, mm; undefined for translation. */
  readonly rotationCentre: number | undefined;
}

/**
 * `least` is the force in N, and the moment in N mm per mm of σ, below which it counts as none. Undefined where neither is there.
 */
export function tipping({ force, moment }: Wrench, sigma2: number, plane: Plane, least = 1e-3): Tipping | undefined {
  const [pull, occlusal] = plane === 'along' ? [force[0], moment[2]] : [force[2], -moment[0]];
  const pulls = Math.abs(pull) >= least;
  const turns = Math.abs(occlusal) >= least * Math.sqrt(sigma2);
  if (!pulls && !turns) return undefined;
  if (!pulls) return { force: pull, lineOfAction: undefined, rotationCentre: 0 };
  const lineOfAction = occlusal / pull;
  return { force: pull, lineOfAction, rotationCentre: turns ? sigma2 / lineOfAction : undefined };
}
