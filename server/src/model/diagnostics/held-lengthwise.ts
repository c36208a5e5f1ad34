import { alternatives, diagnostic } from './diagnostic';

export const heldLengthwise = diagnostic(
  {
    code: 'held-lengthwise',
    severity: 'information',
    title: 'Held lengthwise',
    documentation: `A tube or bracket holds the wire at its seat unless it says \`sliding\`. Between two that hold it, a wire that has to run a longer way
than straight is stretched, and pulls at both far harder than a wire that slides through.

Write \`sliding\` at each attachment that the wire slides through; one must hold it lengthwise. Or declare how the wire is drawn through: with
\`activation pull through molar 0 mm .. 0.5 mm step 0.25 mm\` there is no pull along it at neutral, activation 0 mm.

\`\`\`spring
tube molar slot 0.022 in x 0.028 in, length 4 mm, sliding
bracket canine slot 0.022 in x 0.028 in, width 3 mm      // holds the wire lengthwise
\`\`\``,
  },
  (_span, names: readonly string[], pull: string, sidewise: string) => ({
    message:
      `The wire cannot slide through ${alternatives(names).replace(/ or /, ' and ')}: it is stretched between them, ` +
      `so that the largest force, ${pull}, acts along it (across it: ${sidewise}).`,
    hint:
      names.length === 2
        ? `If the wire slides through ${names[0]}, add "sliding" to its line.`
        : `If the wire slides through its slots, add "sliding" to all but one of ${alternatives(names).replace(/ or /, ' and ')}; until then trust neither the forces along the wire nor the stress.`,
  }),
);
