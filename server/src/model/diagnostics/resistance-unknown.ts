import { diagnostic } from './diagnostic';

export const resistanceUnknown = diagnostic(
  {
    code: 'resistance-unknown',
    severity: 'error',
    title: 'Centre of resistance not known',
    documentation: `What a wire does to a group of teeth is told at its centre of resistance. A file gives it from an attachment, or leaves it to be estimated from
the bundled tooth data (\`use "teeth"\`). For that it must be known where the teeth stand: an attachment of the group is \`on\` one of them.
The place is an estimate either way: it varies with roots, bone and the direction of load.

\`\`\`spring
group anchor of molar, on teeth 15 .. 17, resistance 8 mm gingival from molar
\`\`\``,
  },
  (_span, name: string, attachment: string) => ({
    message: `Where the centre of resistance of ${name} lies is neither given nor can it be estimated here.`,
    hint: `Give it, such as "resistance 8 mm gingival from ${attachment}", or write \`use "teeth"\` and say "on tooth …" at ${attachment}.`,
  }),
);
