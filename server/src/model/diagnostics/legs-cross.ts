import { diagnostic } from './diagnostic';

export const legsCross = diagnostic(
  {
    code: 'legs-cross',
    severity: 'information',
    title: 'Legs cross',
    documentation: `In a strongly gabled open loop the neutral position lies where the legs would pass each other. A real loop's legs meet there; below the
activation that opens them the computed forces are those of a wire that could pass through itself.

\`\`\`spring
preactivate 40 deg toward gingival
open_loop(height = 8 mm, width = 1 mm)   // at neutral its legs would pass each other
preactivate 40 deg toward gingival
\`\`\``,
  },
  (_span, name: string, gap: string) => ({
    message: `At neutral the legs of ${name} stand ${gap}, crossed: they touch in a real wire, which is not computed.`,
  }),
);
