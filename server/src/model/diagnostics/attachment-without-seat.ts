import { diagnostic } from './diagnostic';

export const attachmentWithoutSeat = diagnostic(
  {
    code: 'attachment-without-seat',
    severity: 'error',
    title: 'Attachment without a seat',
    documentation: `The path must say which place of the wire sits in each attachment: \`seat molar\` between two straights.

\`\`\`spring
path running mesial {
  straight 5 mm
  seat molar                             // the middle of the molar tube
  straight 20 mm
}
tube molar slot 0.022 in x 0.028 in, length 4 mm
\`\`\``,
  },
  (_span, name: string) => ({
    message: `The path has no "seat ${name}", so that the wire does not pass through ${name}.`,
  }),
);
