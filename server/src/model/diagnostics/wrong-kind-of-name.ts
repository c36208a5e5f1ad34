import { diagnostic } from './diagnostic';

export const wrongKindOfName = diagnostic(
  {
    code: 'wrong-kind-of-name',
    severity: 'error',
    title: 'Name of another kind',
    documentation: `The name is known, but stands for something that cannot be used at this place: a part where an alloy is expected, an alloy where a
length is expected.

\`\`\`spring
wire round 0.016 in of open_loop   // "open_loop" is a part; an alloy is expected here
\`\`\``,
  },
  (_span, name: string, actual: string, expected: string) => ({
    message: `"${name}" is ${actual}; ${expected} is expected here.`,
  }),
);
