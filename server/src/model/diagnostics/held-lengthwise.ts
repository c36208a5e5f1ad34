import { alternatives, diagnostic } from './diagnostic';

export const heldLengthwise = diagnostic(
  {
    code: 'held-lengthwise',
    severity: 'information',
    title: 'Held lengthwise',
    documentation: `A tube or bracket holds the wire at its seat; sliding through it is not computed. Between two of them a wire that has to run a longer way
than straight is then stretched, and pulls at both far harder than a wire that slides through.

Declare how the wire is drawn through: at neutral, activation 0 mm, there is no pull along it.

\`\`\`spring
activation pull through molar 0 mm .. 0.5 mm step 0.25 mm
\`\`\``,
  },
  (_span, names: readonly string[], pull: string, sidewise: string) => ({
    message:
      `The wire cannot slide through ${alternatives(names).replace(/ or /, ' and ')}: it is stretched between them, ` +
      `so that the largest force, ${pull}, acts along it (across it: ${sidewise}).`,
    hint:
      names.length === 2
        ? `In a slot that lets it slide it would not. Write "activation pull through ${names[0]} 0 mm .. 0.5 mm step 0.25 mm": at neutral there is no pull.`
        : 'In slots that let it slide it would not: trust neither the forces along the wire nor the stress.',
  }),
);
