import { diagnostic } from './diagnostic';

export const momentBeyondUsual = diagnostic(
  {
    code: 'moment-beyond-usual',
    severity: 'warning',
    title: 'Moment beyond what is usual',
    documentation: `At the working activation the wire turns a tooth harder than is usual: about 30 N mm (3000 gf mm) is common practice at most, and torque is mostly kept at 5
to 20 N mm. Strong moments intrude and extrude the neighbours that hold against them. A licensed practitioner decides.

\`\`\`spring
preactivate 40 deg toward gingival     // lower the bend, or take a softer wire
\`\`\``,
  },
  (_span, name: string, actual: string, limit: string, movement: string, source: string) => ({
    message: `${name} is turned by ${actual}, more than the ${limit} that are usual at most for ${movement} (${source}).`,
    hint: 'Lower the preactivation, or take a thinner or softer wire.',
  }),
);
