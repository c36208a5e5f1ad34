import { diagnostic } from './diagnostic';

export const circularValue = diagnostic(
  {
    code: 'circular-value',
    severity: 'error',
    title: 'Value defined by itself',
    documentation: `A named value or a parameter's default is written in terms of itself, directly or through others, so that it has no value.

\`\`\`spring
let height = width + 1 mm
let width = height - 1 mm     // height → width → height
\`\`\``,
  },
  (_span, chain: readonly string[]) => ({
    message: `The value depends on itself: ${chain.join(' → ')}. Give one of them a value of its own.`,
  }),
);
