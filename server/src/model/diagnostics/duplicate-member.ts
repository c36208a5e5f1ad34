import type { Span } from '#grammar/tree';
import { diagnostic } from './diagnostic';

export const duplicateMember = diagnostic(
  {
    code: 'duplicate-member',
    severity: 'error',
    title: 'Written twice',
    documentation: `An appliance has one wire, one path and one activation; an attachment's slot, length and angles are each given once.

\`\`\`spring
tube molar length 4 mm, length 3 mm      // the second length does not count
\`\`\``,
  },
  (_span, what: string, first: { readonly uri: string; readonly span: Span }) => ({
    message: `This is the second ${what}; only the first one counts. Remove one of the two.`,
    related: [{ ...first, message: `The first ${what}` }],
  }),
);
