import { diagnostic } from './diagnostic';

export const missingWire = diagnostic(
  {
    code: 'missing-wire',
    severity: 'error',
    title: 'Appliance without a wire',
    documentation: `Stiffness and strength come from the wire: its section (height along the slot × width into the slot, or \`round\`) and its alloy.

\`\`\`spring
appliance segment {
  wire round 0.016 in of steel           // what it lacked
  path running mesial { straight 20 mm }
}
\`\`\``,
  },
  (_span, name: string) => ({
    message: `${name} does not say what it is bent from. Add a line such as "wire 0.017 in x 0.025 in of beta_titanium".`,
  }),
);
