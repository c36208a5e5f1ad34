import { diagnostic } from './diagnostic';

export const spaceNotClosed = diagnostic(
  {
    code: 'space-not-closed',
    severity: 'warning',
    title: 'Space not closed at the end of the visits',
    documentation: `The visits end before the space is closed: the time is up, the wire cannot be activated once more (a bend would be drawn into the tube, or no
wire is left), or the teeth move the other way. Rates differ from person to person; this is the usual one.

\`\`\`spring
visits every 6 weeks, close 6 mm between canine and molar, activate 3 mm, within 52 weeks
\`\`\``,
  },
  (
    _span,
    when: string,
    closed: string,
    { why, wanted }: { readonly why: string; readonly wanted: string | undefined },
  ) => ({
    message: `By ${when}${wanted ? `, ${closed} of ${wanted} have closed, and` : ''} ${why}.`,
    hint: 'Give it more time with "within", more room beside the loop, or another activation.',
  }),
);
