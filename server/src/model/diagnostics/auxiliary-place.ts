import { diagnostic } from './diagnostic';

export const auxiliaryPlace = diagnostic(
  {
    code: 'auxiliary-place',
    severity: 'error',
    title: 'Auxiliary wire without a place',
    documentation: `An auxiliary wire begins at its first seat. Where that stands is said from an attachment of the appliance that it belongs to, after \`at\`; without it
the first seat stands at the attachment of the same name.

\`\`\`spring
auxiliary tip_back of retraction at molar 3 mm gingival {
  tube molar length 4 mm
}
\`\`\``,
  },
  (_span, main: string, attachments: readonly string[]) => ({
    message: `It is not said where the first seat of this wire stands in "${main}".`,
    hint: `Write a place before the brace, such as "at ${attachments[0] ?? 'molar'} 3 mm gingival".`,
  }),
);
