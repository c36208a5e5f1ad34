import { diagnostic } from './diagnostic';

export const spanExceedsWire = diagnostic(
  {
    code: 'span-exceeds-wire',
    severity: 'error',
    title: 'Wire too short for its span',
    documentation: `The attachments stand farther apart than the wire between them is long. No equilibrium exists: the wire would have to stretch.

\`\`\`spring
seat molar
straight 10 mm
seat canine
// but: tube canine at 12 mm mesial
\`\`\``,
  },
  (_span, length: string, wire: string, where: string) => ({
    message: `The wire between the seats is ${wire} long, but has to span ${length}${where}.`,
    hint: 'Lengthen the path between the seats, bring the attachments closer, or activate less.',
  }),
);
