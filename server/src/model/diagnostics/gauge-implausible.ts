import { diagnostic } from './diagnostic';

export const gaugeImplausible = diagnostic(
  {
    code: 'gauge-implausible',
    severity: 'warning',
    title: 'Gauge reading not plausible',
    documentation: `A gauge reading corrects the modulus of the alloy, so that the elastic wire gives the force that was measured. Where that asks for a modulus which the
alloy does not have, something else differs: the activation was read from another place than neutral, the wire has another size, or it
has taken a set. Up to a factor of two the correction is made all the same; beyond that the modulus is left as the alloy states it.

\`\`\`spring
activation pull through molar 0 mm .. 2 mm step 0.5 mm
gauge 1.6 N at activation 1 mm       // measured with the wire in its attachments, from where it pulls nothing
\`\`\``,
  },
  (_span, message: string) => ({
    message,
    hint: 'Check the reading and where its activation is counted from, the size of the wire, and that it has not taken a set.',
  }),
);
