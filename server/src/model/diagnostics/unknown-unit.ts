import { UNITS } from '#core/units/unit';
import { diagnostic, replacement } from './diagnostic';

export const unknownUnit = diagnostic(
  {
    code: 'unknown-unit',
    severity: 'error',
    title: 'Unknown unit',
    documentation: `The word after the number is not a unit of the language. Units are written as in physics: \`g\` is a mass, so the trade's gram of force is
\`gf\`; a moment is \`N mm\` or \`gf mm\`; a stiffness \`N/mm\` or \`gf/mm\`.

\`\`\`spring
let pull = 150 g              // write: 150 gf
\`\`\``,
  },
  (span, word: string, nearest: string | undefined) => ({
    message: `"${word}" is not a unit. Units are ${[...UNITS.keys()].join(', ')}.`,
    fixes: nearest ? replacement(`Write ${nearest}`, span, nearest) : undefined,
  }),
);
