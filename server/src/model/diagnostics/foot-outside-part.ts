import { diagnostic } from './diagnostic';

export const footOutsidePart = diagnostic(
  {
    code: 'foot-outside-part',
    severity: 'warning',
    title: 'Foot outside a part',
    documentation: `\`foot\` marks a loop's leg; the loop's name (its label after \`as\`, or the part's name) names the read-outs \`leg_gap\` and \`leg_angle\`.

\`\`\`spring
path running mesial {
  foot                                   // move the loop into a part
}
\`\`\``,
  },
  () => ({
    message: 'A foot is only read inside a part, which gives the leg gap its name. Move the loop into a part.',
  }),
);
