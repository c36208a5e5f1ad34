import { diagnostic } from './diagnostic';

export const notHeld = diagnostic(
  {
    code: 'not-held',
    severity: 'error',
    title: 'Wire not held',
    documentation: `A force system needs two attachments. A hook or eyelet holds a point of the wire but lets it turn; at least one other attachment must hold
its direction.

\`\`\`spring
hook  incisor
hook  canine                             // points only: one of them must be a tube or a bracket
\`\`\``,
  },
  (_span, detail: string) => ({
    message: detail,
    hint: 'A wire needs at least one tube or bracket, and a second attachment, to be in equilibrium under load.',
  }),
);
