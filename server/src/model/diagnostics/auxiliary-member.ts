import { diagnostic } from './diagnostic';

export const auxiliaryMember = diagnostic(
  {
    code: 'auxiliary-member',
    severity: 'error',
    title: 'Auxiliary wires are not activated',
    documentation: `An auxiliary wire is engaged in its attachments and stays as it is while the appliance that it belongs to is activated. Activation, trial
activation and gauge reading stand in that appliance.

\`\`\`spring
auxiliary tip_back of retraction at molar 3 mm gingival {
  require when engaged { molar.moment.crown_distal <= 15 N mm }
}
\`\`\``,
  },
  () => ({
    message:
      'An auxiliary wire is engaged and not activated. Write this line into the appliance that it belongs to, or leave it out.',
  }),
);
