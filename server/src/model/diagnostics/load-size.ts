import { diagnostic } from './diagnostic';

export const loadSize = diagnostic(
  {
    code: 'load-size',
    severity: 'error',
    title: 'Load of no size',
    documentation: `A constant force is more than 0, and so is the rate of a spring. Its length at rest, where it gives no force, may be 0 but not negative. An elastic, a
coil spring and a ligature pull; one that is to push is a coil spring shorter than its length at rest.

\`\`\`spring
elastic from canine to molar force 0 gf      // leave the line out for no force
coil from hook_mark to molar rate 0.4 N/mm rest 8 mm
\`\`\``,
  },
  (_span, what: string, value: string, zeroAllowed: boolean) => ({
    message: `${what} is ${value}; it ${zeroAllowed ? 'cannot be negative' : 'must be more than 0'}.`,
  }),
);
