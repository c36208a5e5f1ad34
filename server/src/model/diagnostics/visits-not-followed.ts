import { diagnostic } from './diagnostic';

export const visitsNotFollowed = diagnostic(
  {
    code: 'visits-not-followed',
    severity: 'warning',
    title: 'Visits cannot be followed to their end',
    documentation: `Teeth are moved on in small steps, and after each the wire is brought into equilibrium again. Where that is not found, nothing is known of the time
after it. Often the activation is more than the wire stands, or its attachments come so near to each other that wire and slots meet.

\`\`\`spring
visits every 6 weeks, close 6 mm between canine and molar, activate 2 mm   // less than reaches the loop
\`\`\``,
  },
  (_span, from: string, reason: string) => ({
    message: `What becomes of the teeth ${from} is not known: ${reason}.`,
    hint: 'Activate less, look after it sooner, or mend what the wire meets.',
  }),
);
