import { diagnostic } from './diagnostic';

export const playWithoutSlot = diagnostic(
  {
    code: 'play-without-slot',
    severity: 'error',
    title: 'Play without a slot',
    documentation: `With play, the wire touches the four edges of its slot: those of the slot's height and depth, at both ends of its length. So the slot's size
and a \`length\` (of a tube) or \`width\` (of a bracket) of more than 0 are needed. A hook or eyelet has no edges: it holds a point.

\`\`\`spring
bracket canine with play             // write slot 0.022 in x 0.028 in, width 3 mm, with play
\`\`\``,
  },
  (_span, name: string, missing: string, mend: string) => ({
    message: `With play the wire touches the edges of a slot, but ${name} ${missing}.`,
    hint: mend,
  }),
);
