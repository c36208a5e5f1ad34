import { diagnostic } from './diagnostic';

export const activationNotDeclared = diagnostic(
  {
    code: 'activation-not-declared',
    severity: 'error',
    title: 'No activation declared',
    documentation: `\`require at activation\`, \`along activation\` and \`at neutral\` need to know what is done to activate the appliance: the wire is pulled through
an attachment, or an attachment moves.

\`\`\`spring
activation pull through molar 0 mm .. 3 mm step 0.5 mm   // add it beside the tubes and brackets
require at activation 1.5 mm { wire.stress <= wire.yield }
\`\`\``,
  },
  () => ({
    message:
      'The appliance declares no activation. Add a line such as "activation pull through molar 0 mm .. 3 mm step 0.5 mm", or write "require when engaged".',
  }),
);
