import { diagnostic } from './diagnostic';
import { type Miss, missMessage } from './missed';

export const preferenceMissed = diagnostic(
  {
    code: 'preference-missed',
    severity: 'warning',
    title: 'Preference missed',
    documentation: `The computed value lies outside what the file would rather have. A \`prefer\` block warns where a \`require\` block fails.

\`\`\`spring
prefer at activation 1.5 mm {
  wire.elastic_use <= 0.8 because "a margin below yield"
}
\`\`\``,
  },
  (_span, miss: Miss) => missMessage('Preference', miss),
);
