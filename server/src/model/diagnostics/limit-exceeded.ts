import { diagnostic } from './diagnostic';

export const limitExceeded = diagnostic(
  {
    code: 'limit-exceeded',
    severity: 'error',
    title: 'Too many',
    documentation: `So that no file can hang the editor, repetitions, pieces of wire, parts inside parts, activation stages and attachments are counted and
limited far beyond what is bent by hand.

\`\`\`spring
repeat 100000 { straight 1 mm }          // at most 500 repetitions
\`\`\``,
  },
  (_span, what: string, count: number, limit: number) => ({
    message: `${what}: ${count} are asked for, at most ${limit} are possible.`,
  }),
);
