import { diagnostic } from './diagnostic';

export const trialNotFollowed = diagnostic(
  {
    code: 'trial-not-followed',
    severity: 'error',
    judgement: true,
    title: 'Trial activation not followed',
    documentation: `The wire could not be followed through its trial activation: there is no state in which it is pulled that far, or none was found. The results shown
are then those of the elastic wire as it was bent.

\`\`\`spring
trial activation 3 mm     // no further than the arm, the bends and the attachments allow
\`\`\``,
  },
  (_span, amount: string, reason: string) => ({
    message: `The trial activation to ${amount} could not be followed: ${reason}. The results shown are those of the elastic wire, without it.`,
    hint: 'Pull less far on trial, or lower the gables.',
  }),
);
