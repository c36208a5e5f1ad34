import { diagnostic } from './diagnostic';
import { type Miss, missMessage } from './missed';

export const preferenceMissed = diagnostic(
  {
    code: 'preference-missed',
    severity: 'warning',
    title: 'Preference missed',
    documentation: `The computed value lies outside what the file would rather have. A \`prefer\` block warns where a \`require\` block fails.`,
  },
  (_span, miss: Miss) => missMessage('Preference', miss),
);
