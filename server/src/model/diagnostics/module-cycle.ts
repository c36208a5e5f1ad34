import { diagnostic } from './diagnostic';

export const moduleCycle = diagnostic(
  {
    code: 'module-cycle',
    severity: 'error',
    title: 'Files use each other in a circle',
    documentation: `A file brought in with \`use\` brings in, directly or through others, this file again. Nothing from it is known here until the circle is
broken: move what both need into a third file.

\`\`\`spring
// in a.spring
use "./b.spring"
// in b.spring
use "./a.spring"                         // a.spring → b.spring → a.spring
\`\`\``,
  },
  (_span, chain: readonly string[]) => ({
    message: `Files use each other in a circle: ${chain.join(' → ')}. Move what both need into a file of its own.`,
  }),
);
