import { diagnostic } from './diagnostic';

export const unusedPart = diagnostic(
  {
    code: 'unused-part',
    severity: 'information',
    title: 'Part not used',
    documentation: `Nothing in this file puts the part into a path. In a file without appliances, which others use, parts are not looked at.

\`\`\`spring
part plain_loop(height = 7 mm) { … }     // no path of this file says plain_loop(…): use it, remove it, or move it to a file of parts
\`\`\``,
  },
  (_span, name: string) => ({
    message: `The part "${name}" is not used in this file.`,
  }),
);
