import type { Span } from '#grammar/tree';
import { LONGEST_CHAIN } from '../names/scope';
import type { Problem } from '../problem';
import { diagnostic } from './diagnostic';

export const limitExceeded = diagnostic(
  {
    code: 'limit-exceeded',
    severity: 'error',
    title: 'Too many',
    documentation: `So that no file can hang the editor, repetitions, steps and pieces of wire, parts inside parts, turns of a helix, activation stages, attachments,
values that rest on each other, the appliances of a file and the auxiliary wires of each are counted and limited far beyond what is bent by
hand. What goes beyond is not computed; everything else is. Spread many appliances over several files.

\`\`\`spring
repeat 100000 { straight 1 mm }          // at most 500 repetitions
\`\`\``,
  },
  (_span, what: string, count: number, limit: number) => ({
    message: `${what}: ${count} are asked for, at most ${limit} are possible.`,
  }),
);

export function valuesTooDeep(span: Span): Problem {
  return limitExceeded.at(span, 'Values that rest on each other', LONGEST_CHAIN + 1, LONGEST_CHAIN);
}
