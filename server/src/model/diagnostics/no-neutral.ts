import { diagnostic } from './diagnostic';

export const noNeutral = diagnostic(
  {
    code: 'no-neutral',
    severity: 'error',
    title: 'No neutral position',
    documentation: `Activation counts from the position where the appliance is held by its attachments without any force along the activation. None was found
within the motion that the wire allows.

\`\`\`spring
activation pull through molar 0 mm .. 3 mm step 0.5 mm   // with gables of 80 deg on a short wire
\`\`\``,
  },
  (_span, motion: string) => ({
    message: `No neutral position was found within reach: the force along the activation is not zero anywhere up to ${motion} of it.`,
    hint: 'Weaken the preactivation or give the loop more wire.',
  }),
);
