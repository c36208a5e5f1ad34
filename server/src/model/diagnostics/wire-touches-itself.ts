import { diagnostic } from './diagnostic';

export const wireTouchesItself = diagnostic(
  {
    code: 'wire-touches-itself',
    severity: 'warning',
    title: 'Wire touches itself',
    documentation: `Two pieces of the wire come closer than its thickness. A real wire would press on itself there; the computed forces leave that out. In a closed
loop the legs lie beside each other: keep its parameter \`beside\` at the wire's width.

\`\`\`spring
closed_loop(height = 8 mm, width = 0.5 mm, beside = 0 mm)   // the legs pass through each other
\`\`\``,
  },
  (_span, state: string, overlap: string, places: readonly [string, string]) => ({
    message: `In the ${state} shape the wire touches itself: ${places[0]} and ${places[1]} along it, the surfaces overlap by ${overlap}.`,
    hint: 'Contact is not computed. Let the legs lie beside each other, or give them more room.',
  }),
);
