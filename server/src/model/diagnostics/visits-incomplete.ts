import { diagnostic } from './diagnostic';

export const visitsIncomplete = diagnostic(
  {
    code: 'visits-incomplete',
    severity: 'error',
    title: 'Visits that cannot be followed',
    documentation: `To follow teeth from visit to visit it has to be said how often the appliance is looked after, how far its wire is activated and which groups of teeth
move. The space to close, when to reactivate, the rate and the time within which it ends can be left out.
What comes out is an estimate for planning: people differ, and so do their bones.

\`\`\`spring
group anchor of molar, on teeth 15 .. 17
group front of canine, on teeth 11 .. 13
visits every 6 weeks, close 6 mm between canine and molar, activate 2 mm,
  reactivate when canine.force.distal < 80 gf, rate 0.71 mm/month in 0.57 mm/month .. 1 mm/month
\`\`\``,
  },
  (_span, message: string, hint: string) => ({ message, hint }),
);
