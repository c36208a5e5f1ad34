import type { Span } from '#grammar/tree';
import { diagnostic, replacement } from './diagnostic';

export const seatOutOfLine = diagnostic(
  {
    code: 'seat-out-of-line',
    severity: 'warning',
    title: 'Seat out of line',
    documentation: `Without \`at\`, an attachment stands where the nominal shape, made of all \`bend\`s and no \`preactivate\`, puts its seat. A seat that points
more than 1° away from the first seat, or lies more than 0.1 mm off its line, mostly means that a gable, V bend or tip-back was written as
\`bend\`. Written as \`preactivate\` it bends the free wire and leaves the attachments level.

\`\`\`spring
bend 20 deg toward gingival          // a tip-back bend: write preactivate 20 deg toward gingival
\`\`\``,
  },
  (
    _span,
    name: string,
    first: string,
    deviation: string,
    fix: { readonly span: Span; readonly title: string; readonly text: string } | undefined,
  ) => ({
    message: `In the nominal shape the seat of ${name} ${deviation} the seat of ${first}, so that ${name} is taken to stand like that.`,
    hint: `If the attachments are level, bends that they straighten out are written "preactivate"; otherwise say where ${name} stands with "at".`,
    fixes: fix ? replacement(fix.title, fix.span, fix.text) : undefined,
  }),
);
