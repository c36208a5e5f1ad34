import { diagnostic } from './diagnostic';

export const noNeutral = diagnostic(
  {
    code: 'no-neutral',
    severity: 'error',
    title: 'No neutral position',
    documentation: `Activation counts from the position where the appliance is held by its attachments without any force along the activation. None was found
within the motion that the wire allows.

\`\`\`spring
bracket canine width 3 mm, sliding
activation move canine distal 0 mm .. 2 mm step 1 mm   // along a wire that slides through its bracket
\`\`\``,
  },
  (_span, motion: string) => ({
    message: `No neutral position was found within reach: the force along the activation is not zero anywhere up to ${motion} of it.`,
    hint: 'Where the wire slides through what is moved, it holds nothing that way: leave `sliding` out there, or move something else. Otherwise weaken the preactivation or give the loop more wire.',
  }),
);
