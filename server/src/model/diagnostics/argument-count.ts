import { diagnostic } from './diagnostic';

export const argumentCount = diagnostic(
  {
    code: 'argument-count',
    severity: 'error',
    title: 'Wrong number of values',
    documentation: `Functions take: \`min\` and \`max\` one or more values of one kind; \`arc\` a radius and an angle; all others one value.

\`\`\`spring
let length = arc(2 mm)                   // write: arc(2 mm, 90 deg)
\`\`\``,
  },
  (_span, name: string, expected: string, actual: number) => ({
    message: `${name} takes ${expected}, not ${actual}.`,
  }),
);
