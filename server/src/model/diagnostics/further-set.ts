import { diagnostic } from './diagnostic';

export const furtherSet = diagnostic(
  {
    code: 'further-set',
    severity: 'warning',
    title: 'Further set beyond the trial activation',
    documentation: `A wire that was pulled once and let go keeps its shape as long as it is not pulled further than then. Activated beyond that it takes a further set: its
neutral position moves again and its forces fall at the next visit.

\`\`\`spring
trial activation 4 mm                                        // at least as far as it will be activated, and a little more
require at activation 1.5 mm { activation.amount <= activation.without_set }
\`\`\``,
  },
  (_span, activation: string, room: string) => ({
    message: `At ${activation} of activation the wire takes a further set: after its trial activation it is free of that up to ${room}.`,
    hint: 'Pull it further on trial, activate it less, or lower the gables.',
  }),
);
