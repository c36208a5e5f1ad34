import { diagnostic } from './diagnostic';
import { type Miss, missMessage } from './missed';

export const requirementMissed = diagnostic(
  {
    code: 'requirement-missed',
    severity: 'error',
    judgement: true,
    title: 'Requirement missed',
    documentation: `The computed value lies outside what the file requires. The figures are engineering estimates: a design that only just meets its bounds, or
only just misses them, needs a look at the alloy's range and at the accuracy of hand bending (about ±0.25 mm and ±2°, common practice).

\`\`\`spring
require at activation 1.5 mm {
  canine.force.distal in 100 gf .. 150 gf because "en masse, per side"
}
\`\`\``,
  },
  (_span, miss: Miss) => missMessage('Requirement', miss),
);
