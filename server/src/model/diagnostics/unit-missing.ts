import type { Span } from '#grammar/tree';
import { diagnostic, replacement } from './diagnostic';

export const unitMissing = diagnostic(
  {
    code: 'unit-missing',
    severity: 'error',
    title: 'Unit missing',
    documentation: `Every number has a unit, so that nobody has to guess whether 17 means millimetres, degrees or thousandths of an inch.

\`\`\`spring
straight 8                    // write: straight 8 mm
bend 90 toward gingival       // write: bend 90 deg toward gingival
\`\`\``,
  },
  (_span, text: string, expected: string, unit: string, insertAt: Span) => ({
    message: `${text} has no unit; ${expected} is expected, such as ${text} ${unit}.`,
    fixes: replacement(`Write ${text} ${unit}`, insertAt, ` ${unit}`),
  }),
);
