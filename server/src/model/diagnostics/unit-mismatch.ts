import type { Span } from '#grammar/tree';
import { diagnostic, replacement } from './diagnostic';

export const unitMismatch = diagnostic(
  {
    code: 'unit-mismatch',
    severity: 'error',
    title: 'Dimensions do not match',
    documentation: `Two quantities of different kinds are added or compared, or a quantity of one kind stands where another is expected. Kinds are length,
force, moment, angle, stress, stiffness, time and plain number; an angle is a kind of its own, and a moment (force × length) is not the
energy it would do over an angle.

\`\`\`spring
bend 7 mm toward gingival     // a bend turns by an angle, such as 90 deg
let arc = 2 mm * 90 deg       // a length × angle: write arc(2 mm, 90 deg) for the length of an arc
\`\`\``,
  },
  (
    _span,
    message: string,
    fix: { readonly title: string; readonly span: Span; readonly text: string } | undefined,
    hint: string | undefined,
  ) => ({
    message,
    hint,
    fixes: fix ? replacement(fix.title, fix.span, fix.text) : undefined,
  }),
);
