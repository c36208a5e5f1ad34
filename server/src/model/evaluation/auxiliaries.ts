/** What is to be said of an appliance whose teeth further wires hold too. */
import { auxiliaryNotMoved } from '../diagnostics/auxiliary-not-moved';
import type { Problem } from '../problem';
import type { ResolvedAppliance } from '../resolved';

export function auxiliaryProblems({ design, node, auxiliaries, uri }: ResolvedAppliance): Problem[] {
  const motion = design?.activation?.motion;
  const member = node.members.find(({ kind }) => kind === 'activation');
  if (!design || motion?.kind !== 'move' || !member) return [];
  const { name } = design.attachments[motion.attachment];
  const holding = auxiliaries.filter((one) => one.design?.attachments.some((attachment) => attachment.name === name));
  return holding.map((one) => ({
    ...auxiliaryNotMoved.at({ start: member.span.start, end: member.span.start + 'activation'.length }, name, one.name),
    ...(one.node.name && { related: [{ uri, span: one.node.name.span, message: `${one.name} is written here.` }] }),
  }));
}
