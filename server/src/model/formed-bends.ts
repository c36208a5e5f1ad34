/** How far each bend of an appliance is to be bent so that it springs back to what is written. */
import type { Alloy, ApplianceDesign, Section } from '#core/design';
import { bendBack, type Overbend, overbend } from '#core/material/springback';
import type { PathStep, ResolvedAppliance } from './resolved';

export interface FormedBend {
  readonly step: PathStep;
  /** What is to be left: angle, rad, without its sign, and centre-line radius, mm. */
  readonly left: Overbend;
  /** What to bend to under load. */
  readonly load: Overbend;
  /** The angle to come back to from there, rad, where it is bent back. */
  readonly back: number | undefined;
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
  return {
    step,
    left,
    ...loadOf(section, alloy, thickness, left, step.backFrom === undefined ? 1 : step.backFrom / angle),
  };
}

export function loadOf(
  section: Section,
  alloy: Alloy,
  thickness: number,
  left: Overbend,
  furthest: number,
): Pick<FormedBend, 'load' | 'back'> {
  if (furthest <= 1) return { load: overbend(section, alloy, thickness, left.angle, left.radius), back: undefined };
  const { first, angle } = bendBack(section, alloy, thickness, left, furthest);
  return { load: first, back: angle };
}

/** The section's size in the plane of a turn about its own axes (tangent, up, side), mm. */
export function thicknessAcross(section: Section, [, up, side]: readonly number[]): number {
  if (section.kind === 'round') return section.diameter;
  return (Math.abs(side) * section.height + Math.abs(up) * section.width) / Math.hypot(up, side);
}
