import { diagnostic } from './diagnostic';

export const missingPath = diagnostic(
  {
    code: 'missing-path',
    severity: 'error',
    title: 'Appliance without a path',
    documentation: `The path is the bending instruction: straights, bends toward a direction, parts, and the seats that lie in the attachments.

\`\`\`spring
appliance segment {
  wire round 0.016 in of steel
  path running mesial { straight 20 mm } // what it lacked
}
\`\`\``,
  },
  (_span, name: string) => ({
    message: `${name} has no path. Add "path running mesial { … }" with its straights, bends and seats.`,
  }),
);
