import { diagnostic } from './diagnostic';

export const attachmentWithoutSeat = diagnostic(
  {
    code: 'attachment-without-seat',
    severity: 'error',
    title: 'Attachment without a seat',
    documentation: `The path must say which place of the wire sits in each attachment: \`seat molar\` between two straights.`,
  },
  (_span, name: string) => ({
    message: `The path has no "seat ${name}", so that the wire does not pass through ${name}.`,
  }),
);
