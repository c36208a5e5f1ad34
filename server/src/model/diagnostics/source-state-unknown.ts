import { diagnostic, replacement } from './diagnostic';

export const sourceStateUnknown = diagnostic(
  {
    code: 'source-state-unknown',
    severity: 'error',
    judgement: true,
    title: 'Unknown provenance',
    documentation: `\`source found "…"\`: read in the named publication. \`source memory "…"\`: recalled, not read again. \`source practice\`: a habit of the trade
without a published source. \`source computed\`: follows from other figures.

\`\`\`spring
modulus = 180 GPa source memory "a handbook"
\`\`\``,
  },
  (span, word: string, nearest: string | undefined) => ({
    message: `"${word}" does not say where the figure comes from. Write found, memory, practice or computed.`,
    fixes: nearest ? replacement(`Write ${nearest}`, span, nearest) : undefined,
  }),
);
