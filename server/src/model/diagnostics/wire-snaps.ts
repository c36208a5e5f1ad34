import { diagnostic } from './diagnostic';

export const wireSnaps = diagnostic(
  {
    code: 'wire-snaps',
    severity: 'error',
    title: 'Wire snaps to another shape',
    documentation: `Along the activation the equilibrium comes to an end or turns back, as in a buckled strip that snaps through. Beyond that the wire jumps, and
forces are not foreseeable.`,
  },
  (_span, where: string) => ({
    message: `The wire would snap to another shape${where}: the force it gives there is not steady.`,
    hint: 'Activate less, or make the appliance stiffer where it bows out.',
  }),
);
