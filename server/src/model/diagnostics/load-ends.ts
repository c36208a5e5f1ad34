import { diagnostic } from './diagnostic';

export const loadEnds = diagnostic(
  {
    code: 'load-ends',
    severity: 'error',
    title: 'A load without two ends',
    documentation: `An elastic, a coil spring and a ligature pull two places together: two attachments, two marks of the path, or one of each. Both ends at one
place give no force.

\`\`\`spring
elastic from canine to canine force 150 gf   // name the tooth at its other end
\`\`\``,
  },
  (_span, fitting: string, first: string, second: string) => ({
    message:
      first === second
        ? `Both ends of the ${fitting} take hold at ${first}, so that it pulls at nothing.`
        : `${first} and ${second} are the same place of the wire, so that the ${fitting} pulls at nothing.`,
    hint: 'Name another attachment or mark at one of its ends.',
  }),
);
