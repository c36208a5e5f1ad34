import type { Failure } from '#core/analysis/analysis';

/** Why there is no equilibrium, in a few words; the failure's own problem says it in full. */
export function failurePhrase(failure: Failure): string {
  switch (failure.reason) {
    case 'no-wire':
      return 'there is no wire';
    case 'not-held':
      return 'the wire is not held';
    case 'activation-not-computed':
      return 'the wire is pulled through a hook or an eyelet';
    case 'further-wire':
      return `its auxiliary wire ${failure.wire} has no force system`;
    case 'too-many-attachments':
      return `there are more than ${failure.limit} attachments`;
    case 'span-exceeds-wire':
      return 'the wire is too short for the span';
    case 'bend-in-slot':
      return 'a bend lies in a slot';
    case 'wire-end':
      return 'the wire ends in an attachment';
    case 'no-neutral':
      return 'there is no neutral position';
    case 'snaps':
      return 'the wire snaps to another shape';
    case 'not-converged':
      return 'no equilibrium was found';
  }
}
