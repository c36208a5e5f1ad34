import { diagnostic, replacement } from './diagnostic';

export const seatWithoutAttachment = diagnostic(
  {
    code: 'seat-without-attachment',
    severity: 'error',
    title: 'Seat without an attachment',
    documentation: `A seat is the place of the wire that lies in the middle of an attachment's slot; it bears the attachment's name.

\`\`\`spring
seat premolar
// beside the path:
bracket premolar slot 0.022 in x 0.028 in, width 3 mm
\`\`\``,
  },
  (span, name: string, nearest: string | undefined) => ({
    message: `No attachment is called "${name}".${nearest ? ` Did you mean "${nearest}"?` : ` Add a line such as "tube ${name} slot 0.022 in x 0.028 in, length 4 mm".`}`,
    fixes: nearest ? replacement(`Write ${nearest}`, span, nearest) : undefined,
  }),
);
