/** An appliance's further wires: how they stand beside it, and what is to be said where its teeth are held by them too. */
import type { AnalysisOptions, ApplianceAnalysis } from '#core/analysis/analysis';
import { carriedAlong, type FurtherWire, withFurtherWires, withoutFurtherWire } from '#core/analysis/several-wires';
import type { ApplianceDesign } from '#core/design';
import { auxiliaryNotMoved } from '../diagnostics/auxiliary-not-moved';
import type { Problem } from '../problem';
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

/** The activation moves a tooth with which an auxiliary cannot be carried along. */
export function auxiliaryProblems(
  { design, node, auxiliaries, uri }: ResolvedAppliance,
  further: readonly FurtherWire[],
): Problem[] {
  const motion = design?.activation?.motion;
  const member = node.members.find(({ kind }) => kind === 'activation');
  if (!design || motion?.kind !== 'move' || !member) return [];
  const { name } = design.attachments[motion.attachment];
  const staying = further.filter(
    (one) => !one.design.activation && one.design.attachments.some((attachment) => attachment.name === name),
  );
  return staying.map((one) => {
    const written = auxiliaries.find((auxiliary) => auxiliary.name === one.name)?.node.name;
    return {
      ...auxiliaryNotMoved.at(
        { start: member.span.start, end: member.span.start + 'activation'.length },
        name,
        one.name,
      ),
      ...(written && { related: [{ uri, span: written.span, message: `${one.name} is written here.` }] }),
    };
  });
}
