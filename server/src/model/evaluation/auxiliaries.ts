/** An appliance's further wires: how they stand beside it, and what all of them do together. */
import type { AnalysisOptions, ApplianceAnalysis } from '#core/analysis/analysis';
import { carriedAlong, type FurtherWire, withFurtherWires, withoutFurtherWire } from '#core/analysis/several-wires';
import type { ApplianceDesign } from '#core/design';
import type { ResolvedAppliance } from '../resolved';

/** The auxiliaries that have a design, as they stand at the states of the main wire's own analysis. */
export function furtherWires(
  { auxiliaries }: ResolvedAppliance,
  design: ApplianceDesign,
  own: ApplianceAnalysis,
  analyse: (design: ApplianceDesign, options: Partial<AnalysisOptions>) => ApplianceAnalysis,
): FurtherWire[] {
  const placed = auxiliaries.flatMap(({ name, design: other }) =>
    other ? [{ name, design: other, analysis: analyse(other, {}) }] : [],
  );
  return carriedAlong(placed, design, own, (one) => analyse(one, {}));
}

/** The analysis of all wires together at the main wire's attachments; without a state while one that shares them is not whole. */
export function together(
  appliance: ResolvedAppliance,
  design: ApplianceDesign,
  own: ApplianceAnalysis,
  further: readonly FurtherWire[],
): ApplianceAnalysis {
  if (appliance.auxiliaries.length === 0) return own;
  const unknown = unknownAuxiliary(appliance);
  return unknown ? withoutFurtherWire(own, unknown.name) : withFurtherWires(design, own, further);
}

/** One that something is missing from or wrong with, and that holds a tooth of the main wire. */
export function unknownAuxiliary({ auxiliaries, attachments }: ResolvedAppliance): ResolvedAppliance | undefined {
  const names = new Set(attachments.map(({ name }) => name));
  return auxiliaries.find((one) => !one.design && one.attachments.some(({ name }) => names.has(name)));
}
