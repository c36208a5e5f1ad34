import { diagnostic } from './diagnostic';

export const bentBackTooLittle = diagnostic(
  {
    code: 'bent-back-too-little',
    severity: 'error',
    title: 'Bent back from no further than the bend itself',
    documentation: `A bend that says \`back from\` is first bent to the angle named there and then back to its own, so that its last sense is the
other way. The angle after \`back from\` has to be larger than the bend's own, in the same sense:

\`\`\`spring
bend 90 deg toward gingival back from 105 deg
\`\`\``,
  },
  (_span, first: string, angle: string) => ({
    message: `The bend is to be left at ${angle} and cannot be bent back from ${first}, which is no further.`,
    hint: 'Write an angle after "back from" that is larger than the bend, or leave it out.',
  }),
);
