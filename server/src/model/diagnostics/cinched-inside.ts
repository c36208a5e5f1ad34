import { diagnostic } from './diagnostic';

export const cinchedInside = diagnostic(
  {
    code: 'cinched-inside',
    severity: 'error',
    title: 'Cinched between other attachments',
    documentation: `A wire is cinched where it ends: its end is turned over behind the first or the last attachment. It may then slide back out of the free span, but
is not drawn into it. At an attachment between two others there is no end to turn over: write \`tied\` at a hook or eyelet, \`sliding\`
where the wire slides through, or nothing where it is held.

\`\`\`spring
tube molar slot 0.022 in x 0.028 in, length 4 mm, cinched
bracket premolar slot 0.022 in x 0.028 in, width 3 mm, cinched   // stands between two others: leave cinched out
bracket canine slot 0.022 in x 0.028 in, width 3 mm, sliding
\`\`\``,
  },
  (_span, name: string, ends: readonly [string, string]) => ({
    message: `The wire is cinched at its ends only, behind ${ends[0]} or ${ends[1]}; ${name} stands between them.`,
    hint: `Leave "cinched" out, or write "sliding" if the wire slides through ${name}.`,
  }),
);
