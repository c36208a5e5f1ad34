import type { Span } from '#grammar/tree';
import { diagnostic } from './diagnostic';

export const rangeReversed = diagnostic(
  {
    code: 'range-reversed',
    severity: 'error',
    title: 'Range written backwards',
    documentation: `A range is written with its smaller end first; both ends belong to it. For a force that may point either way, take the directed result
with its sign: \`canine.force.gingival in -10 gf .. 20 gf\`.

\`\`\`spring
param gable = 15 deg in 30 deg .. 0 deg  // write: 0 deg .. 30 deg
\`\`\``,
  },
  (_span, low: string, high: string, lowSpan: Span, highSpan: Span, lowText: string, highText: string) => ({
    message: `The range runs from ${low} down to ${high}; the smaller end comes first.`,
    fixes: [
      {
        title: 'Swap the ends',
        edits: [
          { span: lowSpan, text: highText },
          { span: highSpan, text: lowText },
        ],
      },
    ],
  }),
);
