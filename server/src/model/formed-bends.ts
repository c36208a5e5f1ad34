/** How far each bend of an appliance is to be bent so that it springs back to what is written. */
import type { ApplianceDesign, Section } from '#core/design';
import { type Overbend, overbend } from '#core/material/springback';
import type { PathStep, ResolvedAppliance } from './resolved';

export interface FormedBend {
  readonly step: PathStep;
  /** What is to be left: angle, rad, without its sign, and centre-line radius, mm. */
  readonly left: Overbend;
  /** What to bend to under load. */
  readonly load: Overbend;
}

/** Every bend and helix with a radius, in the order of the wire; sharp corners are idealised and left out. */
export function formedBends({ steps, design }: ResolvedAppliance): readonly FormedBend[] {
  return design ? steps.flatMap((step) => formedBend(step, design) ?? []) : [];
}

export function formedBend(step: PathStep, design: ApplianceDesign): FormedBend | undefined {
  const { kind, angle, radius } = step;
  const bent = kind === 'bend' || kind === 'preactivate' || kind === 'helix';
  if (!bent || angle === undefined || angle === 0 || !radius) return undefined;
  // The arms of a helix meet it in sharp turns: its longest piece is the bent one.
  const element = design.elements.slice(...step.elements).reduce((a, b) => (b.length > a.length ? b : a));
  const { section, alloy } = element.stock ?? design;
  const thickness = thicknessAcross(
    section,
    element.shape.map((turn, k) => turn + element.preactivation[k]),
  );
  const left = { angle: Math.abs(angle), radius };
  return { step, left, load: overbend(section, alloy, thickness, left.angle, radius) };
}

/** The section's size in the plane of a turn about its own axes (tangent, up, side), mm. */
export function thicknessAcross(section: Section, [, up, side]: readonly number[]): number {
  if (section.kind === 'round') return section.diameter;
  return (Math.abs(side) * section.height + Math.abs(up) * section.width) / Math.hypot(up, side);
}
