import { diagnostic } from './diagnostic';

export const wireTooLong = diagnostic(
  {
    code: 'wire-too-long',
    severity: 'error',
    title: 'Wire too long',
    documentation: `So that no file can hang the editor, wires are computed up to half a metre, far beyond what an arch takes. A longer one is nearly always
a unit half-typed or mistaken.

\`\`\`spring
straight 8 m       // 8 mm is meant
\`\`\``,
  },
  (_span, length: string, limit: string) => ({
    message: `With this the wire is ${length} long; up to ${limit} is computed.`,
    hint: 'Check the units: lengths of wire are mm or in.',
  }),
);
