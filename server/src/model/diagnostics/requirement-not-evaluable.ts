import { diagnostic } from './diagnostic';

export const requirementNotEvaluable = diagnostic(
  {
    code: 'requirement-not-evaluable',
    severity: 'error',
    judgement: true,
    title: 'Requirement cannot be evaluated',
    documentation: `A requirement that has no value fails. A moment-to-force ratio, for example, means nothing where the force is below 0.01 N; and there is no
result at an activation for which no equilibrium was found.

\`\`\`spring
require at neutral {
  // At neutral the pull is zero, and so is what it divides by.
  canine.moment.crown_mesial / canine.force.distal >= 6 mm
}
\`\`\``,
  },
  (_span, text: string, where: string, reason: string) => ({
    message: `"${text}" cannot be evaluated${where}: ${reason}.`,
  }),
);
