import { diagnostic } from './diagnostic';

export const toothNumber = diagnostic(
  {
    code: 'tooth-number',
    severity: 'error',
    title: 'Tooth number',
    documentation: `Teeth have their numbers by ISO 3950: first the quadrant (1 upper right, 2 upper left, 3 lower left, 4 lower right), then the place
from the midline (1 to 8). The tooth has to stand where the appliance sits: an appliance that says nothing sits on the upper right.

\`\`\`spring
appliance retraction on upper left {
  tube molar on tooth 16      // stands on the upper right: write tooth 26, or "on upper right" above
\`\`\``,
  },
  (_span, message: string) => ({ message }),
);
