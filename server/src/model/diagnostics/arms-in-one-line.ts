import { diagnostic } from './diagnostic';

export const armsInOneLine = diagnostic(
  {
    code: 'arms-in-one-line',
    severity: 'information',
    title: 'Arms of a closed loop in one line',
    documentation: `In a closed loop the legs cross, so that the two arms pass each other over the loop's width. The design draws both in one line there, the
one through the other. A real wire has them beside each other and brings one back further on; the small bends for that, and the touch of the
two, are not computed.

\`\`\`spring
closed_loop(height = 8 mm, width = 2 mm) // its arms pass each other over 2 mm
\`\`\``,
  },
  (_span, name: string, length: string) => ({
    message: `The arms of ${name} pass each other over ${length} and are computed as lying in one line; bent, they lie beside each other.`,
  }),
);
