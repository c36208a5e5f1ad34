import { diagnostic } from './diagnostic';

export const resultInShape = diagnostic(
  {
    code: 'result-in-shape',
    severity: 'error',
    title: 'Result used where the shape is written',
    documentation: `Forces, moments, stress and leg gaps follow from the shape, so that the shape cannot be written in terms of them. Use them in \`require\`
and \`prefer\` blocks, or in named values that only these use.

\`\`\`spring
straight canine.force.distal / 1 N * 1 mm   // the shape cannot depend on what it yields
\`\`\``,
  },
  (_span, text: string) => ({
    message: `"${text}" depends on the results of the mechanics, which the wire's shape and its activation cannot depend on.`,
    hint: 'Results can be used in require and prefer blocks and in the named values used there.',
  }),
);
