import { diagnostic } from './diagnostic';

export const helixSize = diagnostic(
  {
    code: 'helix-size',
    severity: 'error',
    title: 'Not a helix',
    documentation: `A helix winds more than 0 turns, and its pitch, from turn to turn along its axis, is at least what the wire takes beside itself and at most the
helix' diameter. Without \`pitch\` the coils lie beside each other; a negative pitch stacks them to the other side, and \`pitch 0 mm\` lays them
into one plane, as formulas do.

\`\`\`spring
helix 2 turns diameter 3 mm toward gingival
helix 2 turns diameter 3 mm toward gingival pitch 5 mm   // steeper than a coil is wound
\`\`\``,
  },
  (_span, message: string) => ({ message }),
);
