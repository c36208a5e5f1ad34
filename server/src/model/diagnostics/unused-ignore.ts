import { diagnostic } from './diagnostic';

export const unusedIgnore = diagnostic(
  {
    code: 'unused-ignore',
    severity: 'warning',
    title: 'Nothing to silence',
    documentation: `A comment \`// ignore-next-line <id>: reason\` silences one finding of that id on the next line, and there is none. Remove the comment: left standing
it would silence a finding that nobody has looked at.

\`\`\`spring
// ignore-next-line unused-parameter: kept for the next visit       // the parameter is used: remove this line
param height = 3 mm
\`\`\``,
  },
  (span, id: string) => ({
    message: `The next line has no finding "${id}" that this comment could silence. Remove the comment.`,
    fixes: [{ title: 'Remove the comment', edits: [{ span, text: '' }] }],
  }),
);
