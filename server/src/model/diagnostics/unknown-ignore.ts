import { diagnostic, replacement } from './diagnostic';

export const unknownIgnore = diagnostic(
  {
    code: 'unknown-ignore',
    severity: 'error',
    judgement: true,
    title: 'Unknown finding to silence',
    documentation: `A comment \`// ignore-next-line <id>: reason\` names the finding that it silences by the id that stands beside the finding in the editor and in the
report. There is no finding of the id written here.

\`\`\`spring
// ignore-next-line unused-paramter: kept for the next visit       // did you mean "unused-parameter"?
param spare = 3 mm
\`\`\``,
  },
  (span, id: string, nearest: string | undefined) => ({
    message:
      id === ''
        ? 'Say which finding to silence: "// ignore-next-line <id>: reason", with the id that stands beside the finding.'
        : `There is no finding called "${id}".${nearest ? ` Did you mean "${nearest}"?` : ''}`,
    fixes: nearest && id !== '' ? replacement(`Write ${nearest}`, span, nearest) : undefined,
  }),
);
