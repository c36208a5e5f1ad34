import { alternatives, diagnostic, replacement } from './diagnostic';

export const unknownName = diagnostic(
  {
    code: 'unknown-name',
    severity: 'error',
    title: 'Unknown name',
    documentation: `A name is used that nothing in reach defines: no named value, parameter, part, alloy, section, slot or attachment of that name stands in
this file, in the appliance or part around it, or in a file brought in with \`use\`.

Mend the spelling, define the name, or add the \`use\` line of the file that defines it.

\`\`\`spring
use "alloys"
appliance spring {
  wire round 0.016 in of stee   // there is no alloy called "stee": did you mean "steel"?
}
\`\`\``,
  },
  (span, kind: string, name: string, known: readonly string[], nearest: string | undefined) => ({
    message: `There is no ${kind} called "${name}" here.${nearest ? ` Did you mean "${nearest}"?` : ''}`,
    hint: known.length > 0 ? `Known here: ${alternatives(known)}.` : undefined,
    fixes: nearest ? replacement(`Write ${nearest}`, span, nearest) : undefined,
  }),
);
