import { diagnostic } from './diagnostic';

export const duplicateArgument = diagnostic(
  {
    code: 'duplicate-argument',
    severity: 'error',
    title: 'Argument given twice',
    documentation: `A call gives the same parameter two values; the first counts.

\`\`\`spring
closed_loop(height = 7 mm, height = 8 mm)   // remove one of the two
\`\`\``,
  },
  (_span, name: string) => ({
    message: `"${name}" is given twice here. Remove one of the two.`,
  }),
);
