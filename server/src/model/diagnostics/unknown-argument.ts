import { alternatives, diagnostic, replacement } from './diagnostic';

export const unknownArgument = diagnostic(
  {
    code: 'unknown-argument',
    severity: 'error',
    title: 'Unknown argument',
    documentation: `The call, or the variant, gives a value to a parameter that the part or the appliance does not have.

\`\`\`spring
closed_loop(hieght = 7 mm)    // closed_loop has no parameter "hieght"
\`\`\``,
  },
  (span, name: string, part: string, known: readonly string[], nearest: string | undefined) => ({
    message: `${part} has no parameter "${name}".${known.length > 0 ? ` It takes ${alternatives(known)}.` : ' It takes none.'}`,
    fixes: nearest ? replacement(`Write ${nearest}`, span, nearest) : undefined,
  }),
);
