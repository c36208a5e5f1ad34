import type { Span } from '#grammar/tree';
import { diagnostic } from './diagnostic';

export const duplicateSeat = diagnostic(
  {
    code: 'duplicate-seat',
    severity: 'error',
    title: 'Attachment seated twice',
    documentation: `One place of the wire sits in one attachment. A seat inside \`repeat\`, or inside a part used twice, comes several times.

\`\`\`spring
seat molar
straight 5 mm
seat molar                               // the wire already has its seat in molar
\`\`\``,
  },
  (_span, name: string, first: { readonly uri: string; readonly span: Span }) => ({
    message: `The wire already has its seat in ${name}; it can pass through an attachment only once.`,
    related: [{ ...first, message: 'The first seat' }],
  }),
);
