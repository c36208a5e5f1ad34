import { diagnostic } from './diagnostic';

export const unusableFriction = diagnostic(
  {
    code: 'unusable-friction',
    severity: 'error',
    title: 'Friction that cannot act',
    documentation: `Friction bounds the force with which a wire slides. It is the coefficient between wire and slot, a number from 0 to below 2, and means something only where the
wire can slide: beside \`sliding\` or \`cinched\`.

\`\`\`spring
bracket canine slot 0.022 in x 0.028 in, width 3 mm, sliding, friction 0.15
tube molar length 4 mm, friction 0.15        // the wire is held here: write sliding too, or leave friction out
\`\`\``,
  },
  (_span, message: string, hint: string) => ({ message, hint }),
);
