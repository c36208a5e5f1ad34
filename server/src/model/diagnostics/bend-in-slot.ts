import { diagnostic } from './diagnostic';

export const bendInSlot = diagnostic(
  {
    code: 'bend-in-slot',
    severity: 'error',
    title: 'Bend in a slot',
    documentation: `A tube or bracket holds the wire straight over its length, half of it on each side of the seat. A bend there, or one that activation draws
there, cannot be computed and does not go in at the chair.

\`\`\`spring
seat molar
straight 1 mm                            // a tube of 4 mm holds 2 mm straight on each side: write 3 mm or more
bend 20 deg toward gingival
\`\`\``,
  },
  (_span, name: string, where: string) => ({
    message: `A bend lies in the slot of ${name}${where}; a slot holds the wire straight.`,
    hint: 'Move the bend away from the seat by at least half the slot’s length plus the activation, or shorten the slot.',
  }),
);
