import type { Span } from '#grammar/tree';
import { diagnostic } from './diagnostic';

export const nameClash = diagnostic(
  {
    code: 'name-clash',
    severity: 'error',
    title: 'Imported name clashes',
    documentation: `A \`use\` line brings in a name that this file defines itself or that another \`use\` has brought in already. The first one stays in force.
Rename the file's own name, or the one in the module.

\`\`\`spring
use "loops"                   // brings in "open_loop", which this file already has
part open_loop() { straight 1 mm }
\`\`\``,
  },
  (_span, name: string, path: string, other: { readonly uri: string; readonly span: Span }) => ({
    message: `"${path}" brings in "${name}", which this file already has. Rename one of the two.`,
    related: [{ ...other, message: `"${name}" also comes from here` }],
  }),
);
