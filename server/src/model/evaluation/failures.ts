/** Failures of the mechanics as problems at the lines that cause them. */
import type { ApplianceAnalysis, Failure } from '#core/analysis/analysis';
import { ANGLE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Span } from '#grammar/tree';
import { headOf } from '../appliance/context';
import { auxiliaryWithoutForces } from '../diagnostics/auxiliary-without-forces';
import { bendInSlot } from '../diagnostics/bend-in-slot';
import { emptyWire } from '../diagnostics/empty-wire';
import { limitExceeded } from '../diagnostics/limit-exceeded';
import { noNeutral } from '../diagnostics/no-neutral';
import { notConverged } from '../diagnostics/not-converged';
import { notHeld } from '../diagnostics/not-held';
import { spanExceedsWire } from '../diagnostics/span-exceeds-wire';
import { wireEnd } from '../diagnostics/wire-end';
import { wireSnaps } from '../diagnostics/wire-snaps';
import type { Problem } from '../problem';
import type { ResolvedAppliance } from '../resolved';

export function failureProblems(appliance: ResolvedAppliance, analysis: ApplianceAnalysis, text: string): Problem[] {
  const writer = createWriter(appliance, text);
  if (analysis.failure) return [writer(analysis.failure, '')];
  const problems: Problem[] = [];
  const seen = new Set<Failure['reason']>();
  for (const { activation, failure } of analysis.stages) {
    // Later stages fail for the same reason as the first that does.
    if (!failure || seen.has(failure.reason)) continue;
    seen.add(failure.reason);
    const activated = appliance.design?.activation !== undefined;
    problems.push(writer(failure, activated ? ` at ${length(activation)} of activation` : ''));
  }
  return problems;
}

function createWriter(appliance: ResolvedAppliance, text: string) {
  const { node, design } = appliance;
  const name = node.name?.span ?? headOf(node.span, text);
  const member = (kind: 'path' | 'activation'): Span | undefined => {
    const found = node.members.find((candidate) => candidate.kind === kind);
    return found && headOf(found.span, text);
  };
  const path = member('path') ?? name;
  const motion = member('activation') ?? path;
  const attachmentName = (index: number) => design?.attachments[index]?.name ?? 'the attachment';
  const seatOf = (index: number) =>
    appliance.steps.find((step) => step.kind === 'seat' && step.name === attachmentName(index))?.pathSpan ?? path;
  const stepWith = (element: number) =>
    appliance.steps.find(({ elements }) => element >= elements[0] && element < elements[1])?.pathSpan ?? path;

  return (failure: Failure, where: string): Problem => {
    switch (failure.reason) {
      case 'no-wire':
        return emptyWire.at(path);
      case 'not-held':
        return notHeld.at(name, NOT_HELD[failure.detail]);
      case 'activation-not-computed':
        return notHeld.at(
          motion,
          'The wire is pulled through a hook or an eyelet, which holds a point of it: pull it through a tube or bracket, or move the attachment.',
        );
      case 'further-wire':
        return auxiliaryWithoutForces.at(name, appliance.name, failure.wire, where);
      case 'too-many-attachments':
        return limitExceeded.at(name, 'Attachments', design?.attachments.length ?? 0, failure.limit);
      case 'span-exceeds-wire': {
        const place = where === '' ? path : motion;
        return spanExceedsWire.at(place, length(failure.span), length(failure.wire), where);
      }
      case 'bend-in-slot':
        return bendInSlot.at(stepWith(failure.element), attachmentName(failure.attachment), where);
      case 'wire-end':
        return wireEnd.at(seatOf(failure.attachment), attachmentName(failure.attachment), where);
      case 'no-neutral':
        return noNeutral.at(motion, length(Math.abs(failure.motion)));
      case 'snaps':
        return wireSnaps.at(motion, where);
      case 'not-converged': {
        const residual =
          failure.residual === undefined
            ? undefined
            : `${formatQuantity({ value: failure.residual, dimension: ANGLE })} of turn left open`;
        return notConverged.at(motion, where, failure.iterations, residual);
      }
    }
  };
}

const NOT_HELD: Readonly<Record<Extract<Failure, { reason: 'not-held' }>['detail'], string>> = {
  'no-attachment': 'The wire is not held by any attachment, so that there is no force system.',
  'one-attachment': 'The wire is held by one attachment only, so that nothing loads it.',
  'only-points': 'The wire is held by points only and is free to turn.',
  'all-sliding':
    'The wire slides through every attachment, so that none holds it lengthwise: leave `sliding` out at one of them.',
};

function length(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}
