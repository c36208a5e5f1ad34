import { diagnostic } from './diagnostic';

export const repeatCount = diagnostic(
  {
    code: 'repeat-count',
    severity: 'error',
    title: 'Repeat count not whole',
    documentation: `\`repeat\` takes a plain whole number from 0 up, such as \`repeat 3 { … }\`.

\`\`\`spring
repeat 2.5 { straight 1 mm }             // write: repeat 2 or repeat 3
\`\`\``,
  },
  (_span, text: string) => ({
    message: `A shape is repeated a whole number of times, not ${text}.`,
  }),
);
