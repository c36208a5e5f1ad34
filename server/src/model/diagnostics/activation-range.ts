import { diagnostic } from './diagnostic';

export const activationRange = diagnostic(
  {
    code: 'activation-range',
    severity: 'error',
    title: 'Activation range unusable',
    documentation: `\`activation pull through molar 0 mm .. 3 mm step 0.5 mm\`: stages run from the first amount up to the last in steps of more than zero.
Amounts are counted from the neutral position.

\`\`\`spring
activation pull through molar 0 mm .. 3 mm step 0 mm     // the step must be more than 0
\`\`\``,
  },
  (_span, reason: string) => ({
    message: reason,
  }),
);
