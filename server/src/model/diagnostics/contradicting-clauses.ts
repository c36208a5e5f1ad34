import { diagnostic } from './diagnostic';

export const contradictingClauses = diagnostic(
  {
    code: 'contradicting-clauses',
    severity: 'error',
    title: 'Clauses that contradict each other',
    documentation: `Lengthwise a wire is held, slides, or is cinched: one of the three. \`tied\` holds it, \`sliding\` lets it slide both ways, \`cinched\` lets it
slide back out of the free span but not into it.

\`\`\`spring
hook incisor tied, sliding           // leave one of them out
tube molar length 4 mm, cinched
\`\`\``,
  },
  (_span, name: string, first: string, second: string) => ({
    message: `"${first}" and "${second}" contradict each other: lengthwise the wire ${HOLDS[first]} or ${HOLDS[second]} at ${name}, not both.`,
    hint: 'Leave one of the two out.',
  }),
);

const HOLDS: Readonly<Record<string, string>> = {
  tied: 'is held',
  sliding: 'slides',
  cinched: 'is kept from sliding into the span',
};
