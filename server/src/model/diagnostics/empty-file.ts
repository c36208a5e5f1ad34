import { diagnostic } from './diagnostic';

export const emptyFile = diagnostic(
  {
    code: 'empty-file',
    severity: 'information',
    title: 'Nothing written yet',
    documentation: `A file without an appliance, a part or a value says nothing yet. An appliance is a wire, its path and the attachments it sits in:

\`\`\`spring
use "alloys"

appliance segment {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 4 mm
    seat molar
    straight 10 mm
    seat premolar
    straight 2 mm
  }
  tube molar slot 0.018 in x 0.025 in, length 4 mm
  bracket premolar slot 0.018 in x 0.025 in, width 3 mm
}
\`\`\``,
  },
  () => ({
    message: 'There is nothing to compute in this file yet. Write an appliance: `appliance name { … }`.',
  }),
);
