import { diagnostic } from './diagnostic';

export const visitsNotDeclared = diagnostic(
  {
    code: 'visits-not-declared',
    severity: 'error',
    title: 'Requirement over visits that are not declared',
    documentation: `\`over visits\` asks for what becomes of the teeth over time. That is computed where the appliance says how it is used.

\`\`\`spring
group front of canine, on teeth 11 .. 13
visits every 6 weeks, activate 2 mm
require over visits { front.tip.crown_distal < 10 deg }
\`\`\``,
  },
  () => ({
    message: 'This asks for something over visits, but the appliance declares none.',
    hint: 'Add a line such as "visits every 6 weeks, activate 2 mm".',
  }),
);
