import type { Diagnostic } from './diagnostic';

/** What is said of every syntax problem; the parser finds them and words each by itself. */
export const syntaxPage: Pick<Diagnostic, 'code' | 'severity' | 'title' | 'documentation'> = {
  code: 'syntax',
  severity: 'error',
  title: 'Not understood',
  documentation: `The text cannot be read as a statement at this place. The message says what was expected there; what stands before and after it is read all the
same.

\`\`\`spring
straight 4                               // a length needs its unit: write 4 mm
\`\`\``,
};
