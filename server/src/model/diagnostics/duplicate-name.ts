import type { Span } from '#grammar/tree';
import { diagnostic } from './diagnostic';

export const duplicateName = diagnostic(
  {
    code: 'duplicate-name',
    severity: 'error',
    title: 'Name defined twice',
    documentation: `Within a file, an appliance or a part, a name means one thing. Rename one of the two; for two loops of the same part, label them:
\`closed_loop(height = 8 mm) as front_loop\`.

\`\`\`spring
let height = 7 mm
let height = 8 mm             // "height" is already defined here
\`\`\``,
  },
  (_span, name: string, first: { readonly uri: string; readonly span: Span }) => ({
    message: `"${name}" is already defined here. Give one of the two another name.`,
    related: [{ ...first, message: `"${name}" is first defined here` }],
  }),
);
