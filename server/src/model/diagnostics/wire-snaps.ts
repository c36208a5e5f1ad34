import { diagnostic } from './diagnostic';

export const wireSnaps = diagnostic(
  {
    code: 'wire-snaps',
    severity: 'error',
    title: 'Wire snaps to another shape',
    documentation: `Along the activation the equilibrium comes to an end or turns back, as in a buckled strip that snaps through. Beyond that the wire jumps, and
forces are not foreseeable.

\`\`\`spring
activation move canine distal 0 mm .. 10 mm step 1 mm    // a slender segment bows out and snaps over
\`\`\``,
  },
  (_span, where: string) => ({
    message: `The wire would snap to another shape${where}: the force it gives there is not steady.`,
    hint: 'Activate less, or make the appliance stiffer where it bows out.',
  }),
);
