import { diagnostic } from './diagnostic';

export const emptyWire = diagnostic(
  {
    code: 'empty-wire',
    severity: 'error',
    title: 'No wire',
    documentation: `All straights and bends of the path together have no length, so that there is no wire between the attachments.

\`\`\`spring
path running mesial { seat molar }       // write straights around the seat
\`\`\``,
  },
  () => ({
    message: 'The path has no length: there is no wire to compute. Add straights, bends or parts.',
  }),
);
