import { diagnostic } from './diagnostic';

export const bendRadiusTooSmall = diagnostic(
  {
    code: 'bend-radius-too-small',
    severity: 'warning',
    title: 'Bend tighter than the wire stands',
    documentation: `A bend tighter than the alloy usually stands may crack now or break in use. The limit is the alloy's smallest usual inner radius plus half the
thickness in the plane of the bend (handbook 8, common practice). \`radius 0 mm\`, a sharp corner, is an idealisation for comparison with
formulas and is not reported.

\`\`\`spring
bend 90 deg toward gingival radius 0.3 mm
\`\`\``,
  },
  (_span, radius: string, least: string, times: string) => ({
    message: `Bend radius ${radius} is below ${least}, the usual minimum for this wire (${times} x thickness to the centre line).`,
    hint: 'Bend over a rounder beak, or leave the radius out to get the usual one.',
  }),
);
