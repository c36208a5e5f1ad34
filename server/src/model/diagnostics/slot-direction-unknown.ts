import { diagnostic } from './diagnostic';

export const slotDirectionUnknown = diagnostic(
  {
    code: 'slot-direction-unknown',
    severity: 'error',
    title: 'Direction of a slot not known',
    documentation: `In a whole arch mesial and buccal are different directions at every tooth. An attachment gets its own from the tooth it is on (mesial
along the wire there, toward the midline; buccal outward) or from \`facing\`, which says where buccal lies. They are never guessed.

\`\`\`spring
tube molar on tooth 16                 // mesial runs along the wire toward the midline
tube molar on tooth 16, facing right   // buccal is to the patient's right, mesial anterior
hook button facing left
\`\`\``,
  },
  (_span, name: string, why: string) => ({
    message: `Which way mesial and buccal point at ${name} is not known: ${why}`,
    hint: 'Give its tooth, such as "on tooth 16", or the side to which its buccal points, such as "facing right".',
  }),
);
