import type { Span } from '#grammar/tree';
import { diagnostic } from './diagnostic';

export const pullSide = diagnostic(
  {
    code: 'pull-side',
    severity: 'error',
    title: 'Side to which the wire is pulled',
    documentation: `At the first and the last attachment the wire is pulled out of the appliance. At one between two others it is pulled out of the span on one
side and into the span on the other, and cinched there: say which side it goes to, in a direction along the wire.

\`\`\`spring
activation pull through molar 0 mm .. 1 mm step 0.25 mm                       // the first: out behind it
activation pull through premolar toward distal 0 mm .. 1 mm step 0.25 mm      // between two others: out of its mesial span
\`\`\``,
  },
  (_span, reason: string, hint: string, after?: Span) => ({
    message: reason,
    hint,
    fixes:
      after &&
      ['mesial', 'distal'].map((way) => ({
        title: `Pull toward ${way}`,
        edits: [{ span: { start: after.end, end: after.end }, text: ` toward ${way}` }],
      })),
  }),
);
