import { diagnostic } from './diagnostic';

export const notComputable = diagnostic(
  {
    code: 'not-computable',
    severity: 'error',
    title: 'No value',
    documentation: `The expression has no value: a division by zero, a square root of a negative number, an arc cosine of more than 1.

\`\`\`spring
let rate = 1 N / 0 mm         // a division by zero
\`\`\``,
  },
  (_span, reason: string) => ({
    message: reason,
  }),
);
