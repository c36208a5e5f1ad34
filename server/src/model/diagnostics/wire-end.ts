import { diagnostic } from './diagnostic';

export const wireEnd = diagnostic(
  {
    code: 'wire-end',
    severity: 'error',
    title: 'Wire ends in its attachment',
    documentation: `Drawing the wire through an attachment uses wire on its far side. The end would slip out of the slot, or into it.

\`\`\`spring
straight 1 mm                            // a tube of 4 mm needs 2 mm beyond the seat, and what is pulled through
seat molar
\`\`\``,
  },
  (_span, name: string, where: string) => ({
    message: `The wire ends inside ${name}${where}: there is not enough wire beyond the seat.`,
    hint: 'Add straight wire beyond the seat: half the slot’s length and what the activation draws through.',
  }),
);
